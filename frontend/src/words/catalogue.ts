/** What the pages can say: written by tools/write_types.py from tables of words; not to be edited. */

import type { SENTENCES } from "./en";

export const LANGUAGES = ["en", "fr"] as const;

// prettier-ignore
export const SENTENCES = {
  "page_cables.change_cable": ["Change cable {id}", "Modifier le câble {id}"],
  "page_cables.add_cable": ["Add cable {id}", "Ajouter le câble {id}"],
  "page_cables.obligation_on": ["Obligation on {run}", "Obligation sur {run}"],
  "page_cables.likely": ["likely {rate}", "probable {rate}"],
  "page_cables.can_do_nothing": ["no", "non"],
  "page_cables.what_each_cable_can_do_is": ["What each cable can do is worked out with the plan.", "Ce que peut chaque câble se calcule avec le plan."],
  "page_cables.schedule": ["Schedule", "Nomenclature"],
  "page_cables.cable_schedule": ["Cable schedule", "Nomenclature des câbles"],
  "page_cables.ends": ["Ends", "Bouts"],
  "page_cables.kind": ["Kind", "Type"],
  "page_cables.state": ["State", "État"],
  "page_cables.what_it_can_do": ["What it can do", "Ce qu'il peut faire"],
  "page_cables.change": ["Change", "Modifier"],
  "page_cables.pairs_tail": [", {pairs} pairs", ", {pairs} paires"],
  "page_cables.no_plan_yet": ["no plan yet", "pas encore de plan"],
  "page_cables.close": ["Close", "Fermer"],
  "page_cables.open": ["Open", "Ouvrir"],
  "page_cables.cable": ["cable {id}", "le câble {id}"],
  "page_cables.end": ["End {number}", "Bout {number}"],
  "page_cables.topology": ["Topology", "Topologie"],
  "page_cables.pairs": ["Pairs", "Paires"],
  "page_cables.printed_on_the_sheath": ["Printed on the sheath", "Imprimé sur la gaine"],
  "page_cables.one_more_end": ["One more end", "Un bout de plus"],
  "page_cables.one_end_less": ["One end less", "Un bout de moins"],
  "page_cables.delete_cable": ["Delete cable {id}", "Supprimer le câble {id}"],
  "page_cables.delete_this_cable": ["Delete this cable", "Supprimer ce câble"],
  "page_cables.by_rate": ["By rate", "Par débit"],
  "page_cables.on_a_closer_look": ["On a closer look", "À y regarder de plus près"],
  "page_cables.held": ["Held: {problem}.", "Bloqué : {problem}."],
  "page_cables.before_cutting_checks": ["Before cutting: {n} checks", "Avant de couper : {n} vérifications"],
  "page_cables.decided": ["Decided: {by}, {date}. {words}", "Décidé : {by}, {date}. {words}"],
  "page_cables.record_a_decision_about_this_cable": ["Record a decision about this cable", "Enregistrer une décision sur ce câble"],
  "page_cables.decision_about": ["Decision about {id}", "Décision sur {id}"],
  "page_cables.somebody_depends_on": ["Somebody depends on {id}", "Quelqu'un dépend de {id}"],
  "page_cables.somebody_depends_on_it_2": ["Somebody depends on it", "Quelqu'un en dépend"],
  "page_cables.no_cable_is_on_the_schedule": ["No cable is on the schedule. Add each one that surfaces where they meet, even if nobody knows where it goes.", "Aucun câble dans la nomenclature. Ajoutez chacun de ceux qui arrivent au rassemblement, même si personne ne sait où il va."],
  "page_cables.add_a_cable": ["Add a cable", "Ajouter un câble"],
  "page_cables.who_still_depends_on_a_pair": ["Who still depends on a pair", "Qui dépend encore d'une paire"],
  "page_cables.depends_on_what": ["What", "Quoi"],
  "page_cables.who": ["Who", "Qui"],
  "page_cables.sign_off": ["Sign-off", "Signature"],
  "page_cables.what_is": ["What {id} is", "Ce qu'est {id}"],
  "page_cables.who_depends_on": ["Who depends on {id}", "Qui dépend de {id}"],
  "page_cables.state_of": ["State of {id}", "État de {id}"],
  "page_cables.record_the_sign_off": ["Record the sign-off", "Enregistrer la signature"],
  "page_cables.tracing_which_cable_is_which_outlet": ["Tracing: which cable is which outlet", "Repérage : quel câble mène à quelle prise"],
  "page_cables.wire_map_what_a_pin_to": ["Wire map: what a pin-to-pin reading means", "Schéma de câblage : ce que dit un relevé broche à broche"],
  "page_cables.cable_on_the_plan": ["Cable on the plan", "Câble sur le plan"],
  "page_cables.no_cable_is_listed_yet_list": ["No cable is listed yet. List it on the Cables sheet, then draw here where it runs.", "Aucun câble n'est encore listé. Listez-le sur la feuille Câbles, puis dessinez ici où il passe."],
  "page_cables.choose_one": ["choose one", "en choisir un"],
  "page_cables.its_route_is_long": ["Its route is {length} long.", "Son tracé est long de {length}."],
  "page_cables.no_route_is_drawn_its_length": ["No route is drawn: its length is judged from where its ends stand.", "Aucun tracé dessiné : sa longueur est estimée d'après ses bouts."],
  "page_cables.the_length_noted_for_it_counts": ["The length noted for it, {length}, counts.", "La longueur notée, {length}, fait foi."],
  "page_cables.it_runs_above_the_floor_at": ["It runs above the floor at", "Il court au-dessus du sol à"],
  "page_cables.point_so_far": ["{n:count|point|points}, {length} so far.", "{n:count|point|points}, {length} jusqu'ici."],
  "page_cables.press_where_it_starts": ["Press where it starts.", "Appuyez là où il commence."],
  "page_cables.end_the_route": ["End the route", "Terminer le tracé"],
  "page_cables.take_back_a_point": ["Take back a point", "Reprendre un point"],
  "page_cables.draw_its_route_anew": ["Draw its route anew", "Redessiner son tracé"],
  "page_cables.draw_its_route": ["Draw its route", "Dessiner son tracé"],
  "page_cables.take_its_route_away": ["Take its route away", "Ôter son tracé"],
  "page_cables.worth_a_try": ["try {rate}", "à essayer {rate}"],
  "page_cables.length_span": ["{low} to {high}", "{low} à {high}"],
  "page_common.house": ["House", "Maison"],
  "page_common.storey": ["Storey", "Niveau"],
  "page_common.rooms": ["Rooms", "Pièces"],
  "page_common.not_known": ["not known", "inconnu"],
  "page_common.name": ["Name", "Nom"],
  "page_common.wall": ["Wall", "Mur"],
  "page_common.room": ["Room", "Pièce"],
  "page_common.outlet": ["Outlet", "Prise"],
  "page_common.reading": ["Reading", "Mesure"],
  "page_common.outline_of": ["Outline of {name}", "Contour de {name}"],
  "page_common.cable": ["Cable", "Câble"],
  "page_common.power_dbm": ["Power, dBm", "Puissance, dBm"],
  "page_common.delay_under_load_ms": ["Delay under load, ms", "Latence en charge, ms"],
  "page_common.length": ["Length", "Longueur"],
  "page_common.kind_of": ["Kind", "Nature"],
  "page_common.width": ["Width", "Largeur"],
  "page_common.value": ["Value", "Valeur"],
  "page_common.nothing_was_heard_no_more_than": ["Nothing was heard: no more than this", "Rien n'a été capté : pas plus que ceci"],
  "page_common.band": ["Band", "Bande"],
  "page_common.when": ["When", "Quand"],
  "page_common.delete": ["Delete", "Supprimer"],
  "page_common.walls": ["Walls", "Murs"],
  "page_common.outlets": ["Outlets", "Prises"],
  "page_common.boxes": ["Boxes", "Appareils"],
  "page_common.cables": ["Cables", "Câbles"],
  "page_common.leave_it": ["Leave it", "Laisser"],
  "page_common.power": ["Power", "Puissance"],
  "page_common.as_planned": [", as planned", ", comme prévu"],
  "page_common.coverage_and_choice": ["Coverage and choice", "Couverture et choix"],
  "page_common.no_rooms_yet": ["No rooms yet", "Pas encore de pièces"],
  "page_common.draw_the_house": ["Draw the house", "Dessinez la maison"],
  "page_common.first": ["first.", "d'abord."],
  "page_common.access_point": ["Access point", "Point d'accès"],
  "page_common.not_noted": ["not noted", "non noté"],
  "page_common.choose": ["choose", "choisir"],
  "page_common.somebody_depends_on_it": ["somebody depends on it", "quelqu'un en dépend"],
  "page_common.take_the_route_of_away": ["Take the route of {id} away", "Ôter le tracé de {id}"],
  "page_common.in_what_words": ["In what words", "En quels mots"],
  "page_common.tests_and_readings": ["Tests and readings", "Tests et mesures"],
  "page_common.accepted": ["Accepted", "Accepté"],
  "page_common.work": ["Work", "Travaux"],
  "page_common.takeoff_and_quote": ["Takeoff and quote", "Métré et devis"],
  "page_common.house_in_3_d": ["House in 3-D", "Maison en 3D"],
  "page_common.from_to": ["{low} to {high}", "{low} à {high}"],
  "page_common.nearer": ["Nearer", "Plus près"],
  "page_common.farther": ["Farther", "Plus loin"],
  "page_common.show_all_of_it": ["Show all of it", "Tout montrer"],
  "page_common.meter": ["Meter", "Mesureur"],
  "page_common.stop": ["Stop", "Arrêter"],
  "page_common.people_and_devices": ["People and devices", "Personnes et appareils"],
  "page_common.pair_this_device_rehaul": ["Pair this device · rehaul", "Appairer cet appareil · rehaul"],
  "page_common.handover": ["Handover", "Remise"],
  "page_common.beginning": ["beginning", "début"],
  "page_common.language": ["Language of this device", "Langue de cet appareil"],
  "page_common.said_of": ["{what}: {words}", "{what} : {words}"],
  "page_coverage.rate_at_a_spot_middling": ["Rate at a spot, middling", "Débit en un point, moyen"],
  "page_coverage.rate_at_the_least_5": ["Rate at the least (5 %)", "Débit au moins (5 %)"],
  "page_coverage.rate_at_best_95": ["Rate at best (95 %)", "Débit au mieux (95 %)"],
  "page_coverage.rate_up_at_a_spot_middling": ["Rate up at a spot, middling", "Débit montant en un point, moyen"],
  "page_coverage.rate_up_at_the_least_5": ["Rate up at the least (5 %)", "Débit montant au moins (5 %)"],
  "page_coverage.rate_up_at_best_95": ["Rate up at best (95 %)", "Débit montant au mieux (95 %)"],
  "page_coverage.how_unsure_the_power_is": ["How unsure the power is", "Incertitude de la puissance"],
  "page_coverage.no_map": ["No map", "Aucune carte"],
  "page_coverage.mb_s_middling": ["Mb/s, middling", "Mb/s, moyen"],
  "page_coverage.mb_s_at_the_least_5": ["Mb/s, at the least (5 %)", "Mb/s, au moins (5 %)"],
  "page_coverage.mb_s_at_best_95": ["Mb/s, at best (95 %)", "Mb/s, au mieux (95 %)"],
  "page_coverage.power_in_dbm": ["Power in dBm", "Puissance en dBm"],
  "page_coverage.how_unsure_the_power_is_db": ["How unsure the power is, dB", "Incertitude de la puissance, dB"],
  "page_coverage.map": ["Map", "Carte"],
  "page_coverage.way": ["Way", "Sens"],
  "page_coverage.down": ["Down", "Descendant"],
  "page_coverage.up": ["Up", "Montant"],
  "page_coverage.strongest": ["strongest", "la plus forte"],
  "page_coverage.with": ["With", "Avec"],
  "page_coverage.boxes_that_stand": ["boxes that stand", "appareils en place"],
  "page_coverage.the_plans_access_points": ["the plan's access points", "points d'accès du plan"],
  "page_coverage.what_this_spot_gets": ["What this spot gets", "Ce qui arrive en ce point"],
  "page_coverage.up_2": ["{rate} up", "{rate} montant"],
  "page_coverage.up_3": [", {rate} up", ", {rate} montant"],
  "page_coverage.narrowest": ["narrowest", "le plus étroit"],
  "page_coverage.narrowest_down": ["narrowest down", "le plus étroit en descente"],
  "page_coverage.narrowest_up": ["narrowest up", "le plus étroit en montée"],
  "page_coverage.from_source": [", from {source}", ", de {source}"],
  "page_coverage.nothing_is_heard_here": ["Nothing is heard here.", "Rien n'est capté ici."],
  "page_coverage.least_cost_for_every_number_of": ["Least cost for every number of rooms served", "Moindre coût pour chaque nombre de pièces servies"],
  "page_coverage.rooms_served": ["rooms served", "pièces servies"],
  "page_coverage.cost_before_margin_and_tax": ["cost before margin and tax", "coût avant marge et taxe"],
  "page_coverage.of_rooms_for": ["{served} of {rooms} rooms for {cost}{tail}", "{served:count|pièce|pièces} sur {rooms} pour {cost}{tail}"],
  "page_coverage.needs_are_asked_room_by_room": ["Needs are asked room by room.", "Les besoins se demandent pièce par pièce."],
  "page_coverage.press_anywhere_to_ask_what_gets": ["Press anywhere to ask what gets there. Drag an access point to try it elsewhere; nothing is saved until you keep it there.", "Appuyez n'importe où pour demander ce qui y arrive. Tirez un point d'accès pour l'essayer ailleurs ; rien n'est enregistré tant que vous ne l'y gardez pas."],
  "page_coverage.press_anywhere_to_ask_what_gets_2": ["Press anywhere to ask what gets there.", "Appuyez n'importe où pour demander ce qui y arrive."],
  "page_coverage.spot_and_front": ["Spot and front", "Le point et les choix"],
  "page_coverage.at_the_spot": ["At the spot", "En ce point"],
  "page_coverage.what_each_room_needs_gets_and": ["What each room needs, gets and will get", "Ce dont chaque pièce a besoin, ce qu'elle a et aura"],
  "page_coverage.what_each_room_needs": ["What each room needs", "Ce dont chaque pièce a besoin"],
  "page_coverage.delay_under_load_and_devices_that": ["Delay under load, and devices that move", "Latence en charge, et appareils qui bougent"],
  "page_coverage.how_surely": ["How surely", "Avec quelle sûreté"],
  "page_coverage.how_surely_counts_for_nine_places": ["How surely counts for nine places in ten of a room at once, not for each place; the plan takes some seconds longer", "La sûreté compte pour neuf endroits sur dix d'une pièce à la fois, non pour chaque endroit ; le plan prend quelques secondes de plus"],
  "page_coverage.radar_shared_channels": ["Radar-shared channels", "Canaux partagés avec les radars"],
  "page_coverage.channels_shared_with_radar_may_be": ["Channels shared with radar may be used; an access point leaves them when it hears radar", "Des canaux partagés avec les radars peuvent servir ; un point d'accès les quitte quand il entend un radar"],
  "page_coverage.router_may_be_moved": ["Router may be moved", "Le routeur peut être déplacé"],
  "page_coverage.router_may_move": ["The router may be moved", "Le routeur peut être déplacé"],
  "page_coverage.hops_by_radio": ["Hops by radio", "Bonds par radio"],
  "page_coverage.an_access_point_may_hang_on": ["An access point may hang on the router by radio; both hops then share the air", "Un point d'accès peut dépendre du routeur par radio ; les deux bonds se partagent alors l'air"],
  "page_coverage.data_over_coax": ["Data over coax", "Données sur coaxial"],
  "page_coverage.data_may_go_over_old_coax": ["Data may go over old coax, with an adapter at both ends", "Les données peuvent passer par l'ancien coaxial, avec un adaptateur à chaque bout"],
  "page_coverage.plug_in_radios": ["Plug-in radios", "Radios à brancher"],
  "page_coverage.an_old_laptop_may_get_a": ["An old laptop may get a plug-in radio, where that is all its room lacks", "Un vieil ordinateur portable peut recevoir une radio à brancher, si c'est tout ce qui manque à sa pièce"],
  "page_coverage.channels": ["Channels", "Canaux"],
  "page_coverage.channel": ["Channel", "Canal"],
  "page_coverage.spend_for_room": ["Spend for {served:count|room|rooms}", "Dépenser pour {served:count|pièce|pièces}"],
  "page_coverage.least_cost_for_rooms_served": ["Least cost for rooms served", "Moindre coût pour les pièces servies"],
  "page_coverage.of_rooms_for_2": ["{served} of {asking} rooms for {cost}", "{served:count|pièce|pièces} sur {asking} pour {cost}"],
  "page_coverage.before_margin_and_tax_as_planned": ["before margin and tax, as planned.", "avant marge et taxe, comme prévu."],
  "page_coverage.before_margin_and_tax": ["before margin and tax.", "avant marge et taxe."],
  "page_coverage.access_points_at": ["Access points at {sites}.", "Points d'accès à {sites}."],
  "page_coverage.no_new_access_point": ["No new access point.", "Aucun nouveau point d'accès."],
  "page_coverage.serves": ["Serves {rooms}.", "Sert {rooms}."],
  "page_coverage.serves_no_room": ["Serves no room.", "Ne sert aucune pièce."],
  "page_coverage.plan_for_this": ["Plan for this", "Planifier ainsi"],
  "page_coverage.proven_nothing_cheaper_does_it": ["Proven: nothing cheaper does it.", "Prouvé : rien de moins cher n'y suffit."],
  "page_coverage.at_most_above_the_least_possible": ["At most {gap_pct} % above the least possible.", "Au plus {gap_pct} % au-dessus du minimum possible."],
  "page_coverage.not_read": ["Not read", "Non lu"],
  "page_coverage.what_its_radio_is_set_to": ["What its radio is set to", "Réglages de sa radio"],
  "page_coverage.ghz_width": ["{band} GHz, width", "{band} GHz, largeur"],
  "page_coverage.ghz_channel": ["{band} GHz, channel", "{band} GHz, canal"],
  "page_coverage.read_it_off_the_boxs_own": ["Read it off the box's own page. A band that was not read counts as at its widest.", "À lire sur la page de l'appareil. Une bande non lue compte à sa plus grande largeur."],
  "page_coverage.keep_at": ["Keep {name} at {id}", "Garder {name} à {id}"],
  "page_coverage.tried_elsewhere": ["Tried elsewhere", "Essayé ailleurs"],
  "page_coverage.is_tried_here_this_is_site": ["is tried here. This is site", "est essayé ici. C'est l'emplacement"],
  "page_coverage.is_tried_here_the_nearest_place": ["is tried here. The nearest place a cable reaches is {off} away: site", "est essayé ici. L'endroit le plus proche atteint par un câble est à {off} : emplacement"],
  "page_coverage.on_cable": ["on cable {run}", "par le câble {run}"],
  "page_coverage.by_a_new_cable_of": ["by a new cable of {length}", "par un nouveau câble de {length}"],
  "page_coverage.where_the_cables_meet": ["where the cables meet", "là où les câbles se rassemblent"],
  "page_coverage.keep_it_here": ["Keep it here", "Le garder ici"],
  "page_coverage.keep_it_at": ["Keep it at {id}", "Le garder à {id}"],
  "page_coverage.put_it_back": ["Put it back", "Le remettre"],
  "page_coverage.site": ["Site {id}: {to}", "Emplacement {id} : {to}"],
  "page_coverage.falls_short": ["Falls short", "N'y arrive pas"],
  "page_coverage.sites": ["Sites", "Emplacements"],
  "page_coverage.site_2": ["Site", "Emplacement"],
  "page_coverage.reached_by": ["Reached by", "Atteint par"],
  "page_coverage.cost_to_get_there": ["Cost to get there", "Coût pour y arriver"],
  "page_coverage.why": ["Why", "Pourquoi"],
  "page_coverage.may_it_be_used": ["May it be used", "Peut-il servir"],
  "page_coverage.stands_here": ["{id} stands here", "{id} se trouve ici"],
  "page_coverage.cable": ["cable {run}, {rate}", "câble {run}, {rate}"],
  "page_coverage.the_routers_radio": ["the router's radio", "la radio du routeur"],
  "page_coverage.new_cable": ["new cable, {length}", "nouveau câble, {length}"],
  "page_coverage.a_cord": ["a cord", "un cordon"],
  "page_coverage.site_3": ["Site {id}", "Emplacement {id}"],
  "page_coverage.free_to_choose": ["free to choose", "libre de choix"],
  "page_coverage.pinned_must_be_used": ["pinned: must be used", "imposé : doit servir"],
  "page_coverage.forbidden": ["forbidden", "interdit"],
  "page_coverage.network_heard_on_channel": ["Network heard on channel {channel}", "Réseau capté sur le canal {channel}"],
  "page_coverage.neighbours_networks_heard": ["Neighbours’ networks heard", "Réseaux voisins captés"],
  "page_coverage.from_a_scan_with_a_phone": ["From a scan with a phone or laptop, room by room. The channel plan keeps out of their way; each counts at every access point as loud as where it was heard.", "D'un relevé au téléphone ou à l'ordinateur, pièce par pièce. Le plan des canaux les évite ; chacun compte à chaque point d'accès aussi fort que là où il a été capté."],
  "page_coverage.networks_heard": ["Networks heard", "Réseaux captés"],
  "page_coverage.network": ["Network", "Réseau"],
  "page_coverage.air_in_use": ["Air in use, %", "Air occupé, %"],
  "page_coverage.where": ["Where", "Où"],
  "page_coverage.remove": ["Remove", "Enlever"],
  "page_coverage.band_of": ["Band of {id}", "Bande de {id}"],
  "page_coverage.channel_of": ["Channel of {id}", "Canal de {id}"],
  "page_coverage.width_of": ["Width of {id}", "Largeur de {id}"],
  "page_coverage.power_of_dbm": ["Power of {id}, dBm", "Puissance de {id}, dBm"],
  "page_coverage.air_in_use_by_per_cent": ["Air in use by {id}, per cent", "Air occupé par {id}, pour cent"],
  "page_coverage.where_was_heard": ["Where {id} was heard", "Où {id} a été capté"],
  "page_coverage.when_was_heard": ["When {id} was heard", "Quand {id} a été capté"],
  "page_coverage.remove_network": ["Remove network {id}", "Enlever le réseau {id}"],
  "page_coverage.network_2": ["network {id}", "réseau {id}"],
  "page_coverage.none_written_down_yet_the_plan": ["None written down yet: the plan then takes the air to be free.", "Aucun noté pour l'instant : le plan tient alors l'air pour libre."],
  "page_coverage.add_a_network_heard": ["Add a network heard", "Ajouter un réseau capté"],
  "page_coverage.not_shown": ["not shown", "non affiché"],
  "page_coverage.add_the_network": ["Add the network", "Ajouter le réseau"],
  "page_coverage.the_rate_paid_for": ["the rate paid for", "le débit payé"],
  "page_coverage.outside_tail": [", outside", ", à l'extérieur"],
  "page_coverage.not_lived_in": [", not lived in", ", non habitée"],
  "page_coverage.need_of": ["Need of {name}", "Besoin de {name}"],
  "page_coverage.needs_a_room_a_row": ["Needs, a room a row", "Besoins, une pièce par ligne"],
  "page_coverage.uses": ["Uses", "Usages"],
  "page_coverage.mb_s_down": ["Mb/s down", "Mb/s desc."],
  "page_coverage.mb_s_up": ["Mb/s up", "Mb/s mont."],
  "page_coverage.how_surely_2": ["How surely, %", "Sûreté, %"],
  "page_coverage.wired_outlets": ["Wired outlets", "Prises filaires"],
  "page_coverage.today": ["Today", "Aujourd'hui"],
  "page_coverage.after": ["After", "Après"],
  "page_coverage.all_at_once": ["All at once", "Tous à la fois"],
  "page_coverage.up_after": ["Up after", "Montant après"],
  "page_coverage.delay_under_load": ["Delay under load", "Latence en charge"],
  "page_coverage.narrowest_link_after_down_and_up": ["Narrowest link after, down and up", "Lien le plus étroit après, descendant et montant"],
  "page_coverage.none_named": ["none named", "aucun nommé"],
  "page_coverage.mb_s_down_in": ["Mb/s down in {name}", "Mb/s descendants dans {name}"],
  "page_coverage.mb_s_up_in": ["Mb/s up in {name}", "Mb/s montants dans {name}"],
  "page_coverage.delay_under_load_asked_in_ms": ["Delay under load asked in {name}, ms", "Latence en charge demandée dans {name}, ms"],
  "page_coverage.how_surely_in_per_cent": ["How surely in {name}, per cent", "Sûreté dans {name}, pour cent"],
  "page_coverage.wired_outlets_in": ["Wired outlets in {name}", "Prises filaires dans {name}"],
  "page_coverage.falls_short_2": [", falls short", ", insuffisant"],
  "page_coverage.likely_between": ["likely between {low} and {high}", "probablement entre {low} et {high}"],
  "page_coverage.power_at_spot": ["{power} ± {sd_db} dB in {band} GHz{tail}.", "{power} ± {sd_db} dB en {band} GHz{tail}."],
  "page_coverage.way_and_cost": ["{name}, {way}, {cost} to get there.", "{name}, {way}, {cost} pour y arriver."],
  "page_coverage.span_ms": ["{low} to {high} ms", "{low} à {high} ms"],
  "page_frame.link_opening": ["opening", "ouverture"],
  "page_frame.all_saved": ["all saved", "à jour"],
  "page_frame.no_connection": ["no connection", "hors ligne"],
  "page_frame.saving_waiting": ["saving, {waiting} waiting", "envoi, {waiting} en attente"],
  "page_frame.no_connection_waiting": ["no connection, {waiting} waiting", "hors ligne, {waiting} en attente"],
  "page_frame.to_the_sheet": ["To the sheet", "Vers la feuille"],
  "page_frame.all_jobs": ["All jobs", "Tous les dossiers"],
  "page_frame.stages_of_the_work": ["Stages of the work", "Étapes du travail"],
  "page_frame.there_is_no_such_job_here": ["There is no such job here", "Il n'y a pas de tel dossier ici"],
  "page_frame.see_all_jobs": ["See all jobs", "Voir tous les dossiers"],
  "page_frame.opening_the_job": ["Opening the job …", "Ouverture du dossier…"],
  "page_frame.title_block": ["Title block", "Cartouche"],
  "page_frame.job_an_invented_example": ["Job, an invented example", "Dossier, exemple inventé"],
  "page_frame.job": ["Job", "Dossier"],
  "page_frame.sheet": ["Sheet", "Feuille"],
  "page_frame.saved": ["Saved", "Enregistré"],
  "page_frame.here_now": ["Here now", "Ici maintenant"],
  "page_frame.edit_number": ["Edit", "Modif."],
  "page_frame.sheet_number": ["No.", "N°"],
  "page_frame.of": ["{number} of {n}", "{number} sur {n}"],
  "page_frame.undo": ["Undo: {label}", "Annuler : {label}"],
  "page_frame.nothing_to_undo": ["Nothing to undo", "Rien à annuler"],
  "page_frame.undo_2": ["Undo", "Annuler"],
  "page_frame.redo": ["Redo: {label}", "Refaire : {label}"],
  "page_frame.nothing_to_redo": ["Nothing to redo", "Rien à refaire"],
  "page_frame.redo_2": ["Redo", "Refaire"],
  "page_frame.that_is_more_than_the_server": ["that is more than the server takes at once", "c'est plus que le serveur n'en prend d'un coup"],
  "page_frame.do_it_in_several_steps": ["Do it in several steps", "Faites-le en plusieurs étapes"],
  "page_frame.the_server_does_not_answer": ["the server does not answer", "le serveur ne répond pas"],
  "page_frame.what_you_draw_is_kept_here": ["What you draw is kept here and sent when it is back", "Ce que vous dessinez est gardé ici et envoyé à son retour"],
  "page_frame.the_server_answered": ["the server answered {status}", "le serveur a répondu {status}"],
  "page_frame.try_again": ["Try again", "Réessayez"],
  "page_frame.it_keeps_nothing_for_this_page": ["it keeps nothing for this page", "il ne garde rien pour cette page"],
  "page_frame.another_tab_of_rehaul_holds_its": ["another tab of rehaul holds its database and must be closed", "un autre onglet de rehaul tient sa base et doit être fermé"],
  "page_frame.it_has_no_room_left": ["it has no room left", "il n'a plus de place"],
  "page_frame.its_database_failed": ["its database failed ({name})", "sa base a failli ({name})"],
  "page_frame.keep_your_edit": ["keep your edit", "garder votre modification"],
  "page_frame.leave_this_page_open_until_it": ["leave this page open until it says “all saved”", "laissez cette page ouverte jusqu'à ce qu'elle dise « à jour »"],
  "page_frame.read_what_it_kept": ["read what it kept", "lire ce qu'il avait gardé"],
  "page_frame.edits_that_waited_in_it_are": ["edits that waited in it are not sent", "les modifications qui y attendaient ne sont pas envoyées"],
  "page_frame.strike_out_an_edit_that_is": ["strike out an edit that is done with", "rayer une modification terminée"],
  "page_frame.it_may_show_up_again_when": ["it may show up again when the page is opened anew", "elle peut réapparaître à la prochaine ouverture de la page"],
  "page_frame.keep_a_copy_of_the_job": ["keep a copy of the job", "garder une copie du dossier"],
  "page_frame.do_not_reload_this_page_without": ["do not reload this page without a connection", "ne rechargez pas cette page sans connexion"],
  "page_frame.this_browser_could_not_as": ["This browser could not {what}, as {why}: {then}.", "Ce navigateur n'a pas pu {what}, car {why} : {then}."],
  "page_frame.a_later_question_came_first": ["a later question came first", "une question plus récente est venue d'abord"],
  "page_frame.the_plan": ["The plan", "Le plan"],
  "page_frame.working": ["Working: {doing} …", "Calcul : {doing}…"],
  "page_frame.make_the_plan": ["Make the plan", "Faire le plan"],
  "page_frame.make_the_plan_again": ["Make the plan again", "Refaire le plan"],
  "page_frame.no_plan_yet_it_says_what": ["No plan yet. It says what the old cables can do, where access points go, what it costs and in what order to work.", "Pas encore de plan. Il dit ce que peuvent les vieux câbles, où vont les points d'accès, ce que cela coûte et dans quel ordre travailler."],
  "page_frame.the_job_was_edited_since_this": ["The job was edited since this plan was made.", "Le dossier a été modifié depuis ce plan."],
  "page_frame.made_in": ["Made of edit {revision}, in {seconds} s.", "Fait de la modification {revision}, en {seconds} s."],
  "page_frame.stopped": ["Stopped.", "Arrêté."],
  "page_frame.not_possible_yet": ["Not possible yet.", "Pas encore possible."],
  "page_frame.the_jobs_file": ["The job's file", "Le fichier du dossier"],
  "page_frame.the_file_is_behind": ["The file is behind", "Le fichier est en retard"],
  "page_frame.every_edit_is_safe_in_the": ["Every edit is safe in the log, but the job's file has not followed since {since} UTC. {why} It is tried again every few seconds.", "Chaque modification est en sûreté dans le journal, mais le fichier du dossier n'a pas suivi depuis {since} UTC. {why} On réessaie toutes les quelques secondes."],
  "page_frame.the_jobs_file_caught_up_with": ["The job's file caught up with the log at {caught_up} UTC.", "Le fichier du dossier a rattrapé le journal à {caught_up} UTC."],
  "page_frame.refused": ["Refused", "Refusé"],
  "page_frame.not_taken": ["Not taken", "Pas pris"],
  "page_frame.i_have_read_it": ["I have read it", "J'ai lu"],
  "page_frame.what_others_changed": ["What others changed", "Ce que d'autres ont changé"],
  "page_frame.somebody_else_changed_the_same_things": ["Somebody else changed the same things", "Quelqu'un d'autre a changé les mêmes choses"],
  "page_frame.serious": ["Serious", "Grave"],
  "page_frame.to_be_mended": ["To be mended", "À corriger"],
  "page_frame.to_be_asked": ["To be asked", "À demander"],
  "page_frame.asked_at_the_door_on_the": ["asked at the door, on the work page", "demandé à la porte, sur la page des travaux"],
  "page_frame.storey": ["storey {name}", "niveau {name}"],
  "page_frame.cable": ["cable", "câble"],
  "page_frame.what_the_record_lacks": ["What the record lacks", "Ce qui manque au dossier"],
  "page_frame.serious_2": [", {serious} serious", ", {serious} graves"],
  "page_frame.nothing_found": ["nothing found", "rien trouvé"],
  "page_frame.without_a_connection_the_house_is": ["Without a connection the house is not looked over again.", "Sans connexion, la maison n'est pas revue."],
  "page_frame.finding": ["{n:count|finding|findings}", "{n:count|constat|constats}"],
  "page_frame.show": ["Show {id} {name}", "Montrer {id} {name}"],
  "page_frame.nothing_is_missing_or_contradicts_itself": ["Nothing is missing or contradicts itself, as far as can be seen from here.", "Rien ne manque ni ne se contredit, pour autant qu'on le voie d'ici."],
  "page_frame.refused_edit": ["“{label}”: {words}", "« {label} » : {words}"],
  "page_handover.the_job_was_edited_since": ["The job was edited since.", "Le dossier a été modifié depuis."],
  "page_handover.made_of_edit": ["Made of edit {revision}.", "Fait de la modification {revision}."],
  "page_handover.stopped": ["Stopped.", "Arrêté."],
  "page_handover.all_sheets_to_print_plans_schedule": ["All sheets to print: plans, schedule, port map, quote, order of work", "Toutes les feuilles à imprimer : plans, nomenclature, carte des ports, devis, ordre des travaux"],
  "page_handover.labels_and_tape_strips_at_true": ["Labels and tape strips, at true size", "Étiquettes et bandes, à taille réelle"],
  "page_handover.all_tables_for_a_spreadsheet_program": ["All tables, for a spreadsheet program", "Tous les tableaux, pour un tableur"],
  "page_handover.everything_as_one_page_to_leave": ["Everything as one page, to leave with the household", "Tout en une page, à laisser au foyer"],
  "page_handover.household": ["Household", "Ménage"],
  "page_handover.change_the_household": ["Change the household", "Changer le foyer"],
  "page_handover.address": ["Address", "Adresse"],
  "page_handover.change_the_address": ["Change the address", "Changer l'adresse"],
  "page_handover.technician": ["Technician", "Technicien"],
  "page_handover.change_the_technician": ["Change the technician", "Changer le technicien"],
  "page_handover.firm": ["Firm", "Entreprise"],
  "page_handover.change_the_firm": ["Change the firm", "Changer l'entreprise"],
  "page_handover.for_the_title_block": ["For the title block", "Pour le cartouche"],
  "page_handover.date_on_the_papers": ["Date on the papers", "Date sur les papiers"],
  "page_handover.change_the_date": ["Change the date", "Changer la date"],
  "page_handover.paper": ["Paper", "Papier"],
  "page_handover.change_the_paper": ["Change the paper", "Changer le papier"],
  "page_handover.papers": ["Papers", "Papiers"],
  "page_handover.making_the_papers": ["Making the papers: {doing} …", "Papiers en cours : {doing}…"],
  "page_handover.make_them_again": ["Make them again", "Les refaire"],
  "page_handover.make_the_papers": ["Make the papers", "Faire les papiers"],
  "page_handover.plan_sheets_schedules_labels_and_quote": ["Plan sheets, schedules, labels and quote, made of the job as it is now.", "Feuilles de plan, nomenclatures, étiquettes et devis, faits du dossier tel qu'il est."],
  "page_handover.more_single_drawings_and_tables": ["{n} more: single drawings and tables", "{n} de plus : dessins et tableaux séparés"],
  "page_handover.the_record_that_stays_with_the": ["The record that stays with the house", "Le dossier qui reste avec la maison"],
  "page_handover.what_was_done_found_signed_and": ["What was done, found, signed and left, a page for the closet door, an empty form for passwords, the photos of the work, and everything once more as plain text and tables. It opens without this program.", "Ce qui a été fait, trouvé, signé et laissé, une page pour la porte du placard, un formulaire vide pour les mots de passe, les photos des travaux, et tout encore une fois en texte simple et en tableaux. Il s'ouvre sans ce programme."],
  "page_handover.making_the_record": ["Making the record: {doing} …", "Dossier en cours : {doing}…"],
  "page_handover.make_it_again": ["Make it again", "Le refaire"],
  "page_handover.make_the_record": ["Make the record", "Faire le dossier"],
  "page_handover.save_the_record_and_photos": ["Save the record, {size} and photos", "Enregistrer le dossier, {size} et photos"],
  "page_handover.the_job_itself": ["The job itself", "Le dossier de travail même"],
  "page_handover.one_file_holds_all_of_it": ["One file holds all of it; the next technician opens it with the same program.", "Un seul fichier le contient tout ; le technicien suivant l'ouvre avec le même programme."],
  "page_handover.save_the_job_as_a_file": ["Save the job as a file", "Enregistrer le dossier de travail"],
  "page_handover.for_the_record": ["For the record", "Pour le dossier"],
  "page_handover.where_the_record_is_kept": ["Where the record is kept, for the closet door", "Où le dossier est gardé, pour la porte du placard"],
  "page_handover.meter_cupboard": ["meter cupboard", "placard du compteur"],
  "page_house.nothing_stands_here_yet": ["Nothing stands here yet", "Rien n'est encore dessiné ici"],
  "page_house.add_a_storey_then_draw_its": ["Add a storey, then draw its walls by hand or over a photo of a plan. Or type the rooms as the tape says them, or read a file: both are on the right.", "Ajoutez un niveau, puis dessinez ses murs à la main ou sur la photo d'un plan. Ou saisissez les pièces d'après le mètre, ou lisez un fichier : les deux sont à droite."],
  "page_house.add_the_first_storey": ["Add the first storey", "Ajouter le premier niveau"],
  "page_house.add_a_storey_on_top": ["Add a storey on top", "Ajouter un niveau au-dessus"],
  "page_house.storey_2": ["+ Storey", "+ Niveau"],
  "page_house.beside_the_sheet": ["Beside the sheet", "À côté de la feuille"],
  "page_house.panel": ["Panel", "Volet"],
  "page_house.put_in_a_house_that_was": ["Put in a house that was read", "Mettre en place une maison lue"],
  "page_house.count_storeys": ["{n:count|storey|storeys}", "{n:count|niveau|niveaux}"],
  "page_house.count_walls": ["{n:count|wall|walls}", "{n:count|mur|murs}"],
  "page_house.count_doors": ["{n:count|door|doors}", "{n:count|porte|portes}"],
  "page_house.count_windows": ["{n:count|window|windows}", "{n:count|fenêtre|fenêtres}"],
  "page_house.count_rooms": ["{n:count|room|rooms}", "{n:count|pièce|pièces}"],
  "page_house.rooms_by_tape": ["Rooms by tape", "Pièces au mètre"],
  "page_house.one_thing_a_line_a_name": ["One thing a line: a name, width × length, and where it lies. Measure wall to wall inside; the walls between are added.", "Une chose par ligne : un nom, largeur × longueur, et où elle se trouve. Mesurez de mur à mur à l'intérieur ; les murs entre pièces sont ajoutés."],
  "page_house.read_the_rooms": ["Read the rooms", "Lire les pièces"],
  "page_house.start_from_an_example": ["Start from an example", "Partir d'un exemple"],
  "page_house.a_house_from_a_file": ["A house from a file", "Une maison d'après un fichier"],
  "page_house.building_model_ifc_drawing_dxf_room": ["Building model (IFC), drawing (DXF), room list or job", "Maquette (IFC), dessin (DXF), liste de pièces ou dossier"],
  "page_house.reading": ["Reading …", "Lecture…"],
  "page_house.was_read": ["Read", "Lu"],
  "page_house.not_understood": ["Not understood:", "Pas compris :"],
  "page_house.count_notes": ["{n:count|note|notes}", "{n:count|remarque|remarques}"],
  "page_house.the_walls_rooms_and_storeys_that": ["The walls, rooms and storeys that stand now are replaced. Undo brings them back.", "Les murs, pièces et niveaux actuels sont remplacés. Annuler les rétablit."],
  "page_house.put_it_in": ["Put it in", "Mettre en place"],
  "page_house.type_the_length_as_written_on": ["Type the length as written on the plan, like 3.81 or 12' 6\".", "Saisissez la longueur écrite sur le plan, comme 3,81 ou 12' 6\"."],
  "page_house.a_plan_under_the_sheet": ["A plan under the sheet", "Un plan sous la feuille"],
  "page_house.pixels_m_wide": ["{width_px} × {height_px} pixels, {width} m wide.", "{width_px} × {height_px} pixels, largeur {width} m."],
  "page_house.that_length_is_really": ["That length is really", "Cette longueur est en réalité"],
  "page_house.set_the_scale": ["Set the scale", "Fixer l'échelle"],
  "page_house.set_its_scale_by_a_known": ["Set its scale by a known length", "Fixer son échelle par une longueur connue"],
  "page_house.move_it_by_dragging": ["Move it by dragging", "Le déplacer à la souris"],
  "page_house.remove_it": ["Remove it", "L'enlever"],
  "page_house.turn_degrees": ["Turn, degrees", "Rotation, degrés"],
  "page_house.hide_it": ["Hide it", "Le masquer"],
  "page_house.a_photo_or_scan_of_a": ["A photo or scan of a plan, or a page of a PDF. Its scale is set by one length you know.", "Une photo ou un scan d'un plan, ou une page d'un PDF. Son échelle se fixe par une seule longueur connue."],
  "page_house.page_of_a_pdf": ["Page of a PDF", "Page d'un PDF"],
  "page_house.photo_scan_or_pdf": ["Photo, scan or PDF", "Photo, scan ou PDF"],
  "page_house.show_picture": ["Show picture {picture}", "Afficher l'image {picture}"],
  "page_house.change_storey": ["Change storey {name}", "Modifier le niveau {name}"],
  "page_house.television_cable": ["television cable", "télévision par câble"],
  "page_house.fibre": ["fibre", "fibre"],
  "page_house.wireless": ["wireless", "sans fil"],
  "page_house.queue_not_known": ["not known", "inconnu"],
  "page_house.yes_by_router_or_modem": ["yes, by router or modem", "oui, par le routeur ou le modem"],
  "page_house.no": ["no", "non"],
  "page_house.metres": ["metres", "mètres"],
  "page_house.feet_and_inches": ["feet and inches", "pieds et pouces"],
  "page_house.storey_3": ["Storey {name}", "Niveau {name}"],
  "page_house.floor_to_ceiling": ["Floor to ceiling", "Du sol au plafond"],
  "page_house.finished_floor_above_the_lowest": ["Finished floor above the lowest", "Sol fini au-dessus du plus bas"],
  "page_house.its_floor_is": ["Its floor is", "Son plancher est"],
  "page_house.show_the_walls_of_below": ["Show the walls of {name} below", "Montrer les murs de {name} en dessous"],
  "page_house.align_over_by_a_corner_or": ["Align over {name} by a corner or stair", "Aligner sur {name} par un angle ou un escalier"],
  "page_house.the_whole_house": ["The whole house", "Toute la maison"],
  "page_house.lengths_in": ["Lengths in", "Longueurs en"],
  "page_house.change_the_units": ["Change the units", "Changer les unités"],
  "page_house.subscribed_rate_down_mb_s": ["Subscribed rate down, Mb/s", "Débit souscrit descendant, Mb/s"],
  "page_house.change_the_subscribed_rate": ["Change the subscribed rate", "Changer le débit souscrit"],
  "page_house.subscribed_rate_up_mb_s": ["Subscribed rate up, Mb/s", "Débit souscrit montant, Mb/s"],
  "page_house.the_line_is": ["The line is", "La ligne est"],
  "page_house.what_the_line_is": ["What the line is", "Nature de la ligne"],
  "page_house.its_queue_is_kept_short": ["Its queue is kept short", "Sa file d'attente reste courte"],
  "page_house.the_lines_queue": ["The line's queue", "La file d'attente de la ligne"],
  "page_house.delete_storey": ["Delete storey {name}", "Supprimer le niveau {name}"],
  "page_house.delete_this_storey": ["Delete this storey", "Supprimer ce niveau"],
  "page_house.take_the_wall_tool_and_press": ["Take the Wall tool and press where the first wall starts. With the keyboard: go to the sheet, press W, move with the arrow keys and press Enter.", "Prenez l'outil Mur et appuyez là où commence le premier mur. Au clavier : allez sur la feuille, appuyez sur W, déplacez avec les flèches et appuyez sur Entrée."],
  "page_house.drawing_tools": ["Drawing tools", "Outils de dessin"],
  "page_house.type_a_length_like_3_81": ["Type a length like 3.81 or 12' 6\".", "Saisissez une longueur comme 3,81 ou 12' 6\"."],
  "page_house.the_wall_being_drawn": ["The wall being drawn", "Le mur en cours de dessin"],
  "page_house.walls_made_of": ["Walls made of", "Murs en"],
  "page_house.length_of_this_wall": ["Length of this wall", "Longueur de ce mur"],
  "page_house.draw_it_that_long": ["Draw it that long", "Le dessiner de cette longueur"],
  "page_house.panel_things": ["Things", "Objets"],
  "page_house.picture": ["Picture", "Image"],
  "page_house.by_tape_or_file": ["By tape or file", "Mètre, fichier"],
  "page_house.press_a_corner_or_stair_of": ["Press a corner or stair of this storey.", "Appuyez sur un angle ou un escalier de ce niveau."],
  "page_house.press_one_end_of_a_length": ["Press one end of a length you know.", "Appuyez sur un bout d'une longueur connue."],
  "page_house.drag_the_picture_to_where_it": ["Drag the picture to where it belongs.", "Tirez l'image à sa place."],
  "page_house.storey_4": ["Storey {id}", "Niveau {id}"],
  "page_house.ground_floor": ["Ground floor", "Rez-de-chaussée"],
  "page_house.add_a_storey": ["Add a storey", "Ajouter un niveau"],
  "page_house.a_route_has_two_points_at": ["A route has two points at least.", "Un tracé a au moins deux points."],
  "page_house.route_of": ["Route of {run}", "Tracé de {run}"],
  "page_jobs.make_not_known": ["make not known", "nature inconnue"],
  "page_jobs.doors_windows_gaps": ["Doors, windows, gaps", "Portes, fenêtres, passages"],
  "page_jobs.in": ["{kind} in {wall}", "{kind} dans {wall}"],
  "page_jobs.never_located": ["{kind}, never located", "{kind}, jamais située"],
  "page_jobs.meeting_points": ["Meeting points", "Points de rassemblement"],
  "page_jobs.bodies": ["Bodies", "Obstacles"],
  "page_jobs.route_drawn": ["{kind}, route drawn", "{kind}, tracé dessiné"],
  "page_jobs.readings": ["Readings", "Mesures"],
  "page_jobs.jobs_rehaul": ["Jobs · rehaul", "Dossiers · rehaul"],
  "page_jobs.jobs": ["Jobs", "Dossiers"],
  "page_jobs.you_are_everything_stays_on_this": ["You are {name}. Everything stays on this machine; no page of this program asks any other.", "Vous êtes {name}. Tout reste sur cette machine ; aucune page de ce programme n'en appelle une autre."],
  "page_jobs.edit": ["edit {revision}", "modification {revision}"],
  "page_jobs.no_job_yet": ["No job yet", "Pas encore de dossier"],
  "page_jobs.begin_with_a_house_of_your": ["Begin with a house of your own, or open the invented demo to see every sheet filled in.", "Commencez par une maison à vous, ou ouvrez la démo inventée pour voir chaque feuille remplie."],
  "page_jobs.files_that_are_no_jobs": ["Files that are no jobs", "Fichiers qui ne sont pas des dossiers"],
  "page_jobs.not_opened": ["Not opened", "Non ouverts"],
  "page_jobs.title_of_a_new_job": ["Title of a new job", "Titre d'un nouveau dossier"],
  "page_jobs.n_12_any_street": ["12 Any Street", "12 rue Quelconque"],
  "page_jobs.begin_a_new_job": ["Begin a new job", "Commencer un dossier"],
  "page_jobs.open_the_demo": ["Open the demo", "Ouvrir la démo"],
  "page_jobs.pair_this_device_again": ["Pair this device again", "Appairer à nouveau cet appareil"],
  "page_jobs.pair_this_device": ["Pair this device", "Appairer cet appareil"],
  "page_jobs.the_server_lets_this_device_in": ["The server lets this device in no more: it was forgotten, or its time was up. What you drew and typed is kept here; pair it again and go on.", "Le serveur n'admet plus cet appareil : il a été oublié, ou son temps est passé. Ce que vous avez dessiné et saisi est gardé ici ; appairez-le à nouveau et continuez."],
  "page_jobs.the_server_shows_a_one_time": ["The server shows a one-time code where it was started. A device that is paired already can make one too, under People and devices.", "Le serveur affiche un code à usage unique là où il a été démarré. Un appareil déjà appairé peut aussi en faire un, sous Personnes et appareils."],
  "page_jobs.code": ["Code", "Code"],
  "page_jobs.your_name_as_the_others_will": ["Your name, as the others will see it", "Votre nom, tel que les autres le verront"],
  "page_jobs.pair": ["Pair", "Appairer"],
  "page_jobs.the_server_does_not_answer": ["The server does not answer", "Le serveur ne répond pas"],
  "page_jobs.this_page_needs_it_once_to": ["This page needs it once to begin. Look whether", "Cette page en a besoin une fois pour commencer. Regardez si"],
  "page_jobs.runs_then_try_again": ["runs, then try again.", "tourne, puis réessayez."],
  "page_jobs.try_again": ["Try again", "Réessayer"],
  "page_meter.not_noted": ["Not noted", "Non noté"],
  "page_meter.a_device_not_listed": ["A device not listed", "Un appareil hors liste"],
  "page_meter.delay_nothing_else_going": ["Delay, nothing else going", "Latence, sans autre trafic"],
  "page_meter.down_round_of": ["Down, round {round} of {rounds}", "Descendant, tour {round} sur {rounds}"],
  "page_meter.up_round_of": ["Up, round {round} of {rounds}", "Montant, tour {round} sur {rounds}"],
  "page_meter.stopped_after_full_round": ["Stopped after {done:count|full round|full rounds}.", "Arrêté après {done:count|tour complet|tours complets}."],
  "page_meter.measured_done": ["Measured.", "Mesuré."],
  "page_meter.measured_on_the_server_itself": ["Measured on the server itself.", "Mesuré sur le serveur même."],
  "page_meter.readings_of": ["Readings of {room}", "Mesures de {room}"],
  "page_meter.saved_to_go_to_the_next": ["Saved to {room}. Go to the next room and choose it here.", "Enregistré pour {room}. Allez dans la pièce suivante et choisissez-la ici."],
  "page_meter.stopped_the_page_was_put_aside": ["Stopped: the page was put aside, and a browser slows such pages down. Keep it open while it measures.", "Arrêté : la page a été mise de côté, et un navigateur ralentit ces pages. Gardez-la ouverte pendant la mesure."],
  "page_meter.measures_the_way_from_this_device": ["Measures the way from this device to the server at {host}: down, up and delay, without the internet. {rounds} rounds by {streams} streams, half a minute.", "Mesure le chemin de cet appareil au serveur à {host} : descendant, montant et latence, sans internet. {rounds} tours par {streams} flux, une demi-minute."],
  "page_meter.this_page_is_open_on_the": ["This page is open on the server itself, so nothing goes through the air. Open it on a phone or laptop:", "Cette page est ouverte sur le serveur même, donc rien ne passe par l'air. Ouvrez-la sur un téléphone ou un ordinateur portable :"],
  "page_meter.make_a_code_for_another_device": ["make a code for another device", "faire un code pour un autre appareil"],
  "page_meter.the_server_must_have_been_started": ["(the server must have been started with --lan).", "(le serveur doit avoir été démarré avec --lan)."],
  "page_meter.a_reading_belongs_to_a_room": ["A reading belongs to a room.", "Une mesure appartient à une pièce."],
  "page_meter.room_you_stand_in": ["Room you stand in", "Pièce où vous êtes"],
  "page_meter.choose_the_room": ["Choose the room", "Choisissez la pièce"],
  "page_meter.this_device": ["This device", "Cet appareil"],
  "page_meter.its_name": ["Its name", "Son nom"],
  "page_meter.anns_phone": ["Ann's phone", "Téléphone d'Ann"],
  "page_meter.connected": ["Connected", "Connecté"],
  "page_meter.over_the_air": ["Over the air", "Par l'air"],
  "page_meter.by_cable": ["By cable", "Par câble"],
  "page_meter.to_which_box": ["To which box", "À quel appareil"],
  "page_meter.not_known": ["Not known", "Inconnu"],
  "page_meter.doors": ["Doors", "Portes"],
  "page_meter.doors_open": ["Open", "Ouvertes"],
  "page_meter.doors_shut": ["Shut", "Fermées"],
  "page_meter.work_stage": ["Work", "Travaux"],
  "page_meter.before_it": ["Before it", "Avant"],
  "page_meter.during_it": ["During it", "Pendant"],
  "page_meter.after_it": ["After it", "Après"],
  "page_meter.how_far_it_is": ["How far it is", "Où en est la mesure"],
  "page_meter.measure_in": ["Measure in {name}", "Mesurer dans {name}"],
  "page_meter.choose_the_room_first": ["Choose the room first", "Choisissez d'abord la pièce"],
  "page_meter.measured_in": ["Measured in {room}", "Mesuré dans {room}"],
  "page_meter.measured": ["Measured", "Mesuré"],
  "page_meter.save_to": ["Save to {room}", "Enregistrer pour {room}"],
  "page_meter.leave_it_out": ["Leave it out", "Laisser de côté"],
  "page_meter.what_the_server_limited_is_not": ["What the server limited is not saved; it would say less of {room} than is true.", "Ce que le serveur a limité n'est pas enregistré ; cela dirait moins de {room} que la vérité."],
  "page_meter.there_is_nothing_to_save_run": ["There is nothing to save: run the server on a faster machine, or with less else to do.", "Rien à enregistrer : lancez le serveur sur une machine plus rapide, ou moins occupée."],
  "page_meter.the_server_was_the_limit_not": ["The server was the limit, not the network: it had its hands full, and answered late.", "Le serveur était la limite, pas le réseau : il était débordé, et a répondu en retard."],
  "page_meter.the_server_was_the_limit_not_2": ["The server was the limit, not the network: the air or the cable can do more than this.", "Le serveur était la limite, pas le réseau : l'air ou le câble peut faire plus que cela."],
  "page_meter.the_median_of_round_the_interval": ["The median of {count:count|round|rounds}; the interval holds the true median with {sure_pct} %.", "La médiane de {count:count|tour|tours} ; l'intervalle contient la vraie médiane avec {sure_pct} %."],
  "page_meter.the_median_of_round": ["The median of {count:count|round|rounds}.", "La médiane de {count:count|tour|tours}."],
  "page_meter.the_limit_lies_between_the_server": ["The limit lies between the server and this page: the cable, the air, or this device itself.", "La limite est entre le serveur et cette page : le câble, l'air, ou cet appareil même."],
  "page_meter.down": ["Down", "Descendant"],
  "page_meter.up": ["Up", "Montant"],
  "page_meter.delay": ["Delay", "Latence"],
  "page_meter.delay_while_busy": ["Delay while busy", "Latence en charge"],
  "page_meter.link_rate": ["Link rate", "Débit du lien"],
  "page_meter.stage_before": ["before it", "avant"],
  "page_meter.stage_during": ["during it", "pendant"],
  "page_meter.stage_after": ["after it", "après"],
  "page_meter.drop_reading_of": ["Drop reading {id} of {name}", "Ôter la mesure {id} de {name}"],
  "page_meter.device": ["Device", "Appareil"],
  "page_meter.by_cable_2": [", by cable", ", par câble"],
  "page_meter.drop_reading": ["Drop reading {id}", "Ôter la mesure {id}"],
  "page_meter.drop": ["Drop", "Ôter"],
  "page_meter.no_reading_in_yet": ["No reading in {name} yet.", "Pas encore de mesure dans {name}."],
  "page_meter.the_connection_broke_while_measuring": ["the connection broke while measuring", "la connexion s'est coupée pendant la mesure"],
  "page_meter.go_nearer_and_measure_again": ["Go nearer and measure again", "Approchez-vous et mesurez à nouveau"],
  "page_model.cut_low": ["Cut low", "Coupe basse"],
  "page_model.cut_at_the_plans_height": ["Cut at the plan's height", "Coupe à la hauteur du plan"],
  "page_model.full_height": ["Full height", "Pleine hauteur"],
  "page_model.nothing_stands_yet": ["Nothing stands yet", "Rien n'est encore dessiné"],
  "page_model.storeys_are_stacked_here_as_soon": ["Storeys are stacked here as soon as they have walls or rooms.", "Les niveaux s'empilent ici dès qu'ils ont des murs ou des pièces."],
  "page_model.storeys_shown": ["Storeys shown", "Niveaux montrés"],
  "page_model.storeys_apart": ["Storeys apart", "Écart des niveaux"],
  "page_model.m_more_than_they_stand": ["{apart_m} m more than they stand", "{apart_m} m de plus qu'en réalité"],
  "page_model.cable_its_way_noted": ["cable, its way noted", "câble, chemin noté"],
  "page_model.cable_ends_only_its_way_in": ["cable, ends only: its way in the walls is not known", "câble, bouts seuls : son chemin dans les murs n'est pas connu"],
  "page_model.access_point_of_the_plan": ["access point of the plan", "point d'accès du plan"],
  "page_model.storeys_are_drawn_m_farther_apart": ["Storeys are drawn {apart_m} m farther apart than they stand.", "Les niveaux sont dessinés avec {apart_m} m d'écart de plus qu'en réalité."],
  "page_model.maps_are_being_computed": ["Maps are being computed …", "Calcul des cartes…"],
  "page_model.the_same_in_words": ["The same in words", "La même chose en mots"],
  "page_model.the_house_a_room_a_row": ["The house, a room a row", "La maison, une pièce par ligne"],
  "page_model.boxes_and_access_points": ["Boxes and access points", "Appareils et points d'accès"],
  "page_model.drawing": ["Drawing …", "Dessin…"],
  "page_model.this_browser_cannot_draw_in_three": ["This browser cannot draw in three dimensions. The table below says the same in words.", "Ce navigateur ne sait pas dessiner en trois dimensions. Le tableau ci-dessous dit la même chose en mots."],
  "page_model.the_drawing_could_not_be_fetched": ["The drawing could not be fetched from the server. Load the page again.", "Le dessin n'a pas pu être pris sur le serveur. Rechargez la page."],
  "page_model.drawing_of_the_house_to_be": ["Drawing of the house, to be turned by the arrow keys", "Dessin de la maison, à tourner avec les flèches"],
  "page_model.house_in_three_dimensions_storey_the": ["House in three dimensions, {n:count|storey|storeys}. The table below says the same in words.", "Maison en trois dimensions, {n:count|niveau|niveaux}. Le tableau ci-dessous dit la même chose en mots."],
  "page_model.where_to_look_from": ["Where to look from", "D'où regarder"],
  "page_model.from_corner": ["Corner", "Angle"],
  "page_model.from_above": ["Above", "Dessus"],
  "page_model.from_front": ["Front", "Face"],
  "page_model.turn_left": ["Turn left", "Tourner à gauche"],
  "page_model.turn_right": ["Turn right", "Tourner à droite"],
  "page_model.look_from_higher": ["Look from higher", "Regarder de plus haut"],
  "page_model.look_from_lower": ["Look from lower", "Regarder de plus bas"],
  "page_model.all_of_it": ["All", "Tout"],
  "page_model.drag_to_turn_two_fingers_or": ["Drag to turn, two fingers or the wheel to come nearer. Keys: arrows turn and tilt, with Shift they move, + and − nearer and farther, Home all of it.", "Tirez pour tourner, deux doigts ou la molette pour approcher. Touches : les flèches tournent et inclinent, avec Maj elles déplacent, + et − plus près et plus loin, Début pour tout."],
  "page_parts.type_a_length_like": ["Type a length like {example}.", "Saisissez une longueur comme {example}."],
  "page_parts.at_least": ["At least {length}.", "Au moins {length}."],
  "page_parts.not_known": ["Not known", "inconnu"],
  "page_parts.kilobytes": ["{n} kB", "{n} ko"],
  "page_parts.megabytes": ["{n} MB", "{n} Mo"],
  "page_people.at_house": ["house", "maison"],
  "page_people.at_cables": ["cables", "câbles"],
  "page_people.at_coverage": ["coverage", "couverture"],
  "page_people.at_quote": ["quote", "devis"],
  "page_people.at_work": ["work", "travaux"],
  "page_people.at_tests": ["tests", "tests"],
  "page_people.at_handover": ["handover", "remise"],
  "page_people.at_model": ["model", "3D"],
  "page_people.at_meter": ["meter", "mesureur"],
  "page_people.at_people": ["people", "appareils"],
  "page_people.let_in": ["let in", "admis"],
  "page_people.refused": ["refused", "refusé"],
  "page_people.forgotten": ["forgotten", "oublié"],
  "page_people.wrong_code": ["wrong code", "code faux"],
  "page_people.limit_reached": ["limit reached", "limite atteinte"],
  "page_people.another_device": ["Another device", "Un autre appareil"],
  "page_people.let_another_device_in": ["Let another device in", "Admettre un autre appareil"],
  "page_people.this_server_listens_on_this_machine": ["This server listens on this machine only. Start it with", "Ce serveur n'écoute que cette machine. Démarrez-le avec"],
  "page_people.to_let_a_tablet_in": ["to let a tablet in.", "pour admettre une tablette."],
  "page_people.pairing_address_as_a_qr_code": ["Pairing address as a QR code", "Adresse d'appairage en code QR"],
  "page_people.scan_it_or_open": ["Scan it, or open", "Scannez-le, ou ouvrez"],
  "page_people.there_and_type": ["there and type", "là-bas et saisissez"],
  "page_people.for_one_device_within_minutes": ["For one device, within {minutes} minutes.", "Pour un seul appareil, d'ici {minutes} minutes."],
  "page_people.another_code": ["Another code", "Un autre code"],
  "page_people.make_a_code": ["Make a code", "Faire un code"],
  "page_people.on_this_job": ["On this job", "Sur ce dossier"],
  "page_people.on_this_job_now": ["On this job now", "Sur ce dossier en ce moment"],
  "page_people.on_this_device": [", on this device", ", sur cet appareil"],
  "page_people.nobody_is_connected": ["nobody is connected", "personne n'est connecté"],
  "page_people.latest_from_the_others": ["Latest from the others", "Dernières modifications des autres"],
  "page_people.a_change": ["a change", "une modification"],
  "page_people.devices": ["Devices", "Appareils"],
  "page_people.devices_that_are_let_in": ["Devices that are let in", "Appareils admis"],
  "page_people.person": ["Person", "Personne"],
  "page_people.since": ["Since", "Depuis"],
  "page_people.now": ["Now", "Maintenant"],
  "page_people.forget": ["Forget", "Oublier"],
  "page_people.this_device": [", this device", ", cet appareil"],
  "page_people.is_here": ["here", "ici"],
  "page_people.sign_out": ["Sign out", "Se déconnecter"],
  "page_people.this_device_2": ["this device", "de cet appareil"],
  "page_people.the_device_of": ["the device of {name}", "l'appareil de {name}"],
  "page_people.what_happened_at_the_door": ["What happened at the door", "Ce qui s'est passé à la porte"],
  "page_people.who_was_let_in_refused_or": ["Who was let in, refused or forgotten, newest first. No code or token is written down.", "Qui a été admis, refusé ou oublié, le plus récent d'abord. Aucun code ni jeton n'est noté."],
  "page_people.time_utc": ["Time, UTC", "Heure, UTC"],
  "page_people.what_is_read": ["What", "Quoi"],
  "page_people.address": ["Address", "Adresse"],
  "page_people.details": ["Details", "Détails"],
  "page_people.times": [", {times} times", ", {times} fois"],
  "page_people.nothing_yet": ["nothing yet", "encore rien"],
  "page_plan.select": ["Select", "Choisir"],
  "page_plan.press_a_thing_to_see_and": ["Press a thing to see and change it; drag to move it; drag empty paper to move the sheet.", "Appuyez sur un objet pour le voir et le modifier ; tirez-le pour le déplacer ; tirez le papier vide pour déplacer la feuille."],
  "page_plan.press_where_the_wall_starts_then": ["Press where the wall starts, then where it ends; or type how long it is. It goes on from there; Escape ends it.", "Appuyez où le mur commence, puis où il finit ; ou saisissez sa longueur. Il continue de là ; Échap l'arrête."],
  "page_plan.press_inside_walls_that_close_around": ["Press inside walls that close around a room.", "Appuyez entre des murs qui ferment une pièce."],
  "page_plan.outside_area": ["Outside area", "Extérieur"],
  "page_plan.press_in_the_garden_drive_or": ["Press in the garden, drive or terrace; then drag the corners of the area.", "Appuyez dans le jardin, l'allée ou la terrasse ; puis tirez les angles de la zone."],
  "page_plan.door": ["Door", "Porte"],
  "page_plan.press_on_a_wall": ["Press on a wall.", "Appuyez sur un mur."],
  "page_plan.window": ["Window", "Fenêtre"],
  "page_plan.gap": ["Gap", "Passage"],
  "page_plan.press_on_a_wall_an_opening": ["Press on a wall: an opening with nothing in it.", "Appuyez sur un mur : une ouverture sans rien dedans."],
  "page_plan.press_where_the_plate_is_it": ["Press where the plate is; it goes to the nearest wall's face.", "Appuyez où est la prise ; elle se pose sur la face du mur le plus proche."],
  "page_plan.meeting_point": ["Meeting point", "Rassemblement"],
  "page_plan.press_where_cables_meet": ["Press where cables meet.", "Appuyez là où les câbles se rassemblent."],
  "page_plan.box": ["Box", "Appareil"],
  "page_plan.press_where_the_modem_router_or": ["Press where the modem, router or access point stands.", "Appuyez où se trouve le modem, le routeur ou le point d'accès."],
  "page_plan.body": ["Body", "Obstacle"],
  "page_plan.press_where_a_fridge_bath_boiler": ["Press where a fridge, bath, boiler or chimney breast stands.", "Appuyez où se trouve un réfrigérateur, une baignoire, une chaudière ou un conduit de cheminée."],
  "page_plan.press_where_you_measured_then_type": ["Press where you measured, then type what was read.", "Appuyez où vous avez mesuré, puis saisissez la valeur lue."],
  "page_plan.cable_route": ["Cable route", "Tracé de câble"],
  "page_plan.choose_a_cable_then_press_along": ["Choose a cable, then press along its way, from plate to plate. Backspace takes a point back, Enter ends.", "Choisissez un câble, puis appuyez le long de son chemin, de prise à prise. Retour arrière reprend un point, Entrée termine."],
  "page_plan.ask_a_spot": ["Ask a spot", "Voir ici"],
  "page_plan.press_anywhere_to_see_what_gets": ["Press anywhere to see what gets there, and which link is the narrowest.", "Appuyez n'importe où pour voir ce qui y arrive, et quel lien est le plus étroit."],
  "page_plan.all_of_it": ["All", "Tout"],
  "page_plan.plan_sheet_of_arrow_keys_move": ["Plan sheet of {name}. Arrow keys move the mark or the selected thing, Enter presses.", "Feuille du plan de {name}. Les flèches déplacent la marque ou l'objet choisi, Entrée appuie."],
  "page_plan.a_storey": ["a storey", "un niveau"],
  "page_plan.move": ["Move {kind} {id}", "Déplacer {kind} {id}"],
  "page_plan.the_outline_would_cross_or_touch": ["The outline would cross or touch itself there.", "Le contour se croiserait ou se toucherait là."],
  "page_plan.delete": ["Delete {kind} {id}", "Supprimer {kind} {id}"],
  "page_plan.there_is_a_room_here_already": ["There is a room here already.", "Il y a déjà une pièce ici."],
  "page_plan.the_walls_do_not_close_here": ["The walls do not close here. Draw what is missing, or join the corners.", "Les murs ne se ferment pas ici. Dessinez ce qui manque, ou joignez les angles."],
  "page_plan.room_number": ["Room {n}", "Pièce {n}"],
  "page_plan.add_a_room": ["Add a room", "Ajouter une pièce"],
  "page_plan.that_is_within_the_house_press": ["That is within the house. Press outside its walls.", "C'est dans la maison. Appuyez en dehors de ses murs."],
  "page_plan.outside_number": ["Outside {n}", "Extérieur {n}"],
  "page_plan.add_an_outside_area": ["Add an outside area", "Ajouter une zone extérieure"],
  "page_plan.add_one": ["Add a {kind}", "Ajouter : {kind}"],
  "page_plan.add_with_id": ["Add {kind} {id}", "Ajouter : {kind} {id}"],
  "page_plan.closet": ["Closet", "Placard"],
  "page_plan.draw_a_wall": ["Draw a wall", "Dessiner un mur"],
  "page_plan.now_press_the_same_corner_or": ["Now press the same corner or stair of the storey below.", "Appuyez maintenant sur le même angle ou escalier du niveau d'en dessous."],
  "page_plan.now_press_the_other_end_of": ["Now press the other end of the known length.", "Appuyez maintenant sur l'autre bout de la longueur connue."],
  "page_plan.align_a_storey": ["Align a storey", "Aligner un niveau"],
  "page_plan.choose_the_cable_first_beside_the": ["Choose the cable first, beside the sheet.", "Choisissez d'abord le câble, à côté de la feuille."],
  "page_plan.a_room_has_three_corners_at": ["A room has three corners at least. Delete the room itself, or move the corner.", "Une pièce a au moins trois angles. Supprimez la pièce même, ou déplacez l'angle."],
  "page_plan.two_corners_cannot_be_in_one": ["Two corners cannot be in one place.", "Deux angles ne peuvent être au même endroit."],
  "page_plan.the_outline_would_touch_itself_there": ["The outline would touch itself there.", "Le contour se toucherait là."],
  "page_plan.the_outline_would_cross_itself_there": ["The outline would cross itself there.", "Le contour se croiserait là."],
  "page_plan.the_room_would_have_no_area": ["The room would have no area.", "La pièce n'aurait pas de surface."],
  "page_plan.right_up": ["{right} right, {up} up", "{right} à droite, {up} vers le haut"],
  "page_plan.kind_wall": ["wall", "mur"],
  "page_plan.kind_opening": ["opening", "ouverture"],
  "page_plan.kind_room": ["room", "pièce"],
  "page_plan.kind_body": ["body", "obstacle"],
  "page_plan.kind_outlet": ["outlet", "prise"],
  "page_plan.kind_meeting_point": ["meeting point", "point de rassemblement"],
  "page_plan.kind_box": ["box", "appareil"],
  "page_plan.kind_reading": ["reading", "mesure"],
  "page_plan.kind_run": ["run", "câble"],
  "page_quote.in_the_price": ["In the price", "Dans le prix"],
  "page_quote.not_in_the_price": ["Not in the price", "Hors du prix"],
  "page_quote.assumed": ["Assumed", "Supposé"],
  "page_quote.not_known_yet_and_priced": ["Not known yet, and priced", "Pas encore connu, et chiffré"],
  "page_quote.parts_labour_and_price_follow_from": ["Parts, labour and price follow from the plan.", "Pièces, main-d'œuvre et prix découlent du plan."],
  "page_quote.labour_for_an_hour": ["Labour for an hour, {currency}", "Main-d'œuvre à l'heure, {currency}"],
  "page_quote.as_in_the_table": ["as in the table", "du tableau"],
  "page_quote.labour_for_an_hour_2": ["Labour for an hour", "Main-d'œuvre à l'heure"],
  "page_quote.margin": ["Margin, %", "Marge, %"],
  "page_quote.margin_2": ["Margin", "Marge"],
  "page_quote.tax": ["Tax, %", "Taxe, %"],
  "page_quote.tax_2": ["Tax", "Taxe"],
  "page_quote.spare_ports": ["Spare ports", "Ports libres"],
  "page_quote.battery_lasts_minutes": ["Battery lasts, minutes", "Durée de la batterie, minutes"],
  "page_quote.battery_time": ["Battery time", "Durée de la batterie"],
  "page_quote.new_cable": ["New cable", "Nouveau câble"],
  "page_quote.new_cable_may_be_pulled": ["New cable may be pulled", "Du nouveau câble peut être tiré"],
  "page_quote.proposed_change_see_under_accepted": ["{n:count|proposed change|proposed changes}: see under Accepted.", "{n:count|changement proposé|changements proposés} : voir sous Accepté."],
  "page_quote.these_prices_are_invented_put_in": ["These prices are invented. Put in your own before anybody signs.", "Ces prix sont inventés. Mettez les vôtres avant que quiconque signe."],
  "page_quote.price": ["Price", "Prix"],
  "page_quote.material": ["Parts", "Fournitures"],
  "page_quote.labour": ["Labour", "Main-d'œuvre"],
  "page_quote.total": ["Total", "Total"],
  "page_quote.not_above_in_nine_jobs_of": ["Not above {total} in nine jobs of ten. Deposit {deposit}, valid {days} days.", "Pas au-dessus de {total} dans neuf dossiers sur dix. Acompte {deposit}, valable {days} jours."],
  "page_quote.offers": ["Offers", "Offres"],
  "page_quote.offer": ["Offer", "Offre"],
  "page_quote.access_points": ["Access points", "Points d'accès"],
  "page_quote.nothing": ["nothing", "rien"],
  "page_quote.part": ["Part", "Article"],
  "page_quote.used": ["Used", "Utilisé"],
  "page_quote.spare": ["Spare", "Réserve"],
  "page_quote.buy": ["Buy", "À acheter"],
  "page_quote.unit": ["Unit", "Unité"],
  "page_quote.each": ["Each", "L'unité"],
  "page_quote.because_of": ["Because of", "À cause de"],
  "page_quote.lengths_to_cut": ["Lengths to cut", "Longueurs à couper"],
  "page_quote.piece": ["Piece", "Morceau"],
  "page_quote.from": ["From", "De"],
  "page_quote.to": ["To", "À"],
  "page_quote.length_with_slack": ["Length with slack", "Longueur avec réserve"],
  "page_quote.task": ["Task", "Tâche"],
  "page_quote.visit": ["Visit", "Visite"],
  "page_quote.how_many": ["How many", "Combien"],
  "page_quote.time": ["Time", "Temps"],
  "page_quote.nine_in_ten": ["Nine in ten", "Neuf sur dix"],
  "page_quote.its_text_was_erased_with_the": ["Its text was erased with the household's data; price and hash stay.", "Son texte a été effacé avec les données du foyer ; le prix et l'empreinte restent."],
  "page_quote.altered_since_it_was_signed_the": ["Altered since it was signed: the hash does not fit. It is not followed.", "Modifiée depuis la signature : l'empreinte ne correspond pas. Elle n'est pas suivie."],
  "page_quote.steps_parts_and_price_are_kept": ["Steps, parts and price are kept as signed.", "Étapes, pièces et prix sont gardés comme signés."],
  "page_quote.words_and_price_are_kept_as": ["Words and price are kept as signed; its steps were not kept.", "Mots et prix sont gardés comme signés ; ses étapes n'ont pas été gardées."],
  "page_quote.a_later_one_has_taken_its": ["{kept} A later one has taken its place.", "{kept} Une plus récente l'a remplacée."],
  "page_quote.accepted_offers": ["Accepted offers", "Offres acceptées"],
  "page_quote.accepted_by": ["Accepted by", "Acceptée par"],
  "page_quote.what_stands": ["What stands", "Ce qui vaut"],
  "page_quote.frozen_copy_sha_256": ["Frozen copy, SHA-256", "Copie figée, SHA-256"],
  "page_quote.in_force": ["in force", "en vigueur"],
  "page_quote.save": ["Save {id}", "Enregistrer {id}"],
  "page_quote.save_its_plan": ["Save its plan", "Enregistrer son plan"],
  "page_quote.what_was_accepted_is_never_altered": ["What was accepted is never altered or taken away; a later acceptance is put under it, and the last one rules.", "Ce qui a été accepté n'est jamais modifié ni ôté ; une acceptation plus récente se met dessous, et la dernière fait foi."],
  "page_quote.what_a_new_plan_would_change": ["What a new plan would change", "Ce que changerait un nouveau plan"],
  "page_quote.a_new_plan_would_change_this": ["A new plan would change this.", "Un nouveau plan changerait ceci."],
  "page_quote.proposed_and_not_in_force_before": ["Proposed, and not in force before an offer of it is accepted below:", "Proposé, et pas en vigueur avant qu'une offre en soit acceptée ci-dessous :"],
  "page_quote.a_new_plan_would_change_nothing": ["A new plan would change nothing of it.", "Un nouveau plan n'en changerait rien."],
  "page_quote.nothing_is_accepted_yet": ["Nothing is accepted yet.", "Rien n'est encore accepté."],
  "page_quote.accept_an_offer": ["Accept an offer", "Accepter une offre"],
  "page_quote.day": ["Day", "Jour"],
  "page_quote.freeze_as_accepted": ["Freeze as accepted", "Figer comme accepté"],
  "page_quote.the_job_was_edited_since_this": ["The job was edited since this quote was made. Make the plan again before anybody signs.", "Le dossier a été modifié depuis ce devis. Refaites le plan avant que quiconque signe."],
  "page_quote.quoted": ["“{words}”", "« {words} »"],
  "page_tests.quantity_down": ["down", "descendant"],
  "page_tests.quantity_up": ["up", "montant"],
  "page_tests.quantity_power": ["power", "puissance"],
  "page_tests.quantity_delay": ["delay", "latence"],
  "page_tests.quantity_delay_under_load": ["delay under load", "latence en charge"],
  "page_tests.quantity_link_rate": ["link rate", "débit du lien"],
  "page_tests.before_the_work": ["before the work", "avant les travaux"],
  "page_tests.during": ["during", "pendant"],
  "page_tests.after": ["after", "après"],
  "page_tests.reading_in": ["Reading in {room}", "Mesure dans {room}"],
  "page_tests.test_of": ["Test of {id}", "Test de {id}"],
  "page_tests.accept": ["Accept {about}: {result}", "Acceptation de {about} : {result}"],
  "page_tests.what_would_settle_what_is_still": ["What would settle what is still open", "Ce qui trancherait ce qui reste ouvert"],
  "page_tests.until_then": ["Until then: {guess} {costs}", "D'ici là : {guess} {costs}"],
  "page_tests.readings_in_rooms": ["Readings in rooms", "Mesures dans les pièces"],
  "page_tests.what_was_read": ["What was read", "Ce qui a été lu"],
  "page_tests.milliseconds": ["Milliseconds", "Millisecondes"],
  "page_tests.by_wire": ["By wire", "Par câble"],
  "page_tests.add_the_reading": ["Add the reading", "Ajouter la mesure"],
  "page_tests.or_measure_with_this_device_on": ["Or measure with this device on the", "Ou mesurez avec cet appareil sur la page"],
  "page_tests.rooms_before_and_after": ["Rooms before and after", "Pièces avant et après"],
  "page_tests.down_by_room": ["Down, by room", "Descendant, par pièce"],
  "page_tests.read_before": ["Read before", "Lu avant"],
  "page_tests.promised": ["Promised", "Promis"],
  "page_tests.read_after": ["Read after", "Lu après"],
  "page_tests.accepted_2": ["Accepted: {name}", "Accepté : {name}"],
  "page_tests.sign": ["Sign", "Signer"],
  "page_tests.sign_for": ["Sign for {name}", "Signer pour {name}"],
  "page_tests.all_readings": ["All {n} readings", "Les {n} mesures"],
  "page_tests.what_is_read": ["What", "Quoi"],
  "page_tests.ghz": [", {band} GHz", ", {band} GHz"],
  "page_tests.by_wire_2": [", by wire", ", par câble"],
  "page_tests.of_repeats": [" (of {repeats})", " (sur {repeats})"],
  "page_tests.delete_reading": ["Delete reading {id}", "Supprimer la mesure {id}"],
  "page_tests.reading": ["reading {id}", "la mesure {id}"],
  "page_tests.tests_of_cables": ["Tests of cables", "Tests des câbles"],
  "page_tests.wire_map": ["Wire map", "Schéma de câblage"],
  "page_tests.link_that_came_up_mb_s": ["Link that came up, Mb/s", "Lien obtenu, Mb/s"],
  "page_tests.full_load_minutes": ["Full load, minutes", "Pleine charge, minutes"],
  "page_tests.errors": ["Errors", "Erreurs"],
  "page_tests.loop_ohm": ["Loop, ohm", "Boucle, ohm"],
  "page_tests.last_test": ["Last test", "Dernier test"],
  "page_tests.wire_map_of": ["Wire map of {id}", "Schéma de câblage de {id}"],
  "page_tests.not_read": ["not read", "non lu"],
  "page_tests.link_on": ["Link on {id}", "Lien sur {id}"],
  "page_tests.not_tried": ["not tried", "non essayé"],
  "page_tests.minutes_of_full_load_on": ["Minutes of full load on {id}", "Minutes de pleine charge sur {id}"],
  "page_tests.errors_on": ["Errors on {id}", "Erreurs sur {id}"],
  "page_tests.loop_of_ohm": ["Loop of {id}, ohm", "Boucle de {id}, ohm"],
  "page_tests.no_cable_to_test_yet": ["No cable to test yet.", "Aucun câble à tester."],
  "page_tests.add_cables": ["Add cables", "Ajoutez des câbles"],
  "page_tests.wire_map_of_2": ["Wire map of {run}", "Schéma de câblage de {run}"],
  "page_tests.for_each_pin_here_the_pin": ["For each pin here, the pin it reaches at the far end: several where they beep together, none where it is open.", "Pour chaque broche ici, la broche atteinte à l'autre bout : plusieurs si elles sonnent ensemble, aucune si elle est ouverte."],
  "page_tests.far_pin_of_pin": ["Far pin of pin {pin}", "Broche opposée de la broche {pin}"],
  "page_tests.reported_split": ["{pair} reported split", "{pair} signalée dépairée"],
  "page_tests.what_does_it_mean": ["What does it mean?", "Qu'est-ce que cela veut dire ?"],
  "page_tests.straight_through": ["Straight through", "Tout droit"],
  "page_tests.either_end_may_be_at_fault": ["Either end may be at fault: {why}.", "L'un ou l'autre bout peut être fautif : {why}."],
  "page_tests.open_the_end_first": ["Open the {end} end first: {why}.", "Ouvrez d'abord le bout {end} : {why}."],
  "page_tests.keep_it_with_cable": ["Keep it with cable", "À garder avec le câble"],
  "page_tests.keep": ["Keep", "Garder"],
  "page_tests.span_and_need": ["{low} to {high}, needs {need}", "{low} à {high}, besoin de {need}"],
  "page_thing.corners": ["Corners", "Angles"],
  "page_thing.corner_before": ["Corner before", "Angle précédent"],
  "page_thing.next_corner": ["Next corner", "Angle suivant"],
  "page_thing.corner_of": ["Corner {corner} of {many}", "Angle {corner} sur {many}"],
  "page_thing.corners_2": ["{many} corners", "{many} angles"],
  "page_thing.corner_from_the_left": ["Corner from the left", "Angle depuis la gauche"],
  "page_thing.corner_from_below": ["Corner from below", "Angle depuis le bas"],
  "page_thing.add_a_corner_after_it": ["Add a corner after it", "Ajouter un angle après"],
  "page_thing.take_this_corner_out": ["Take this corner out", "Ôter cet angle"],
  "page_thing.on_the_sheet_drag_a_square": ["On the sheet: drag a square to move a corner, a dot to add one. With keys: Page Down and Page Up choose a corner, arrows move it, Insert adds one, Delete takes it out.", "Sur la feuille : tirez un carré pour déplacer un angle, un point pour en ajouter un. Au clavier : Page suivante et Page précédente choisissent un angle, les flèches le déplacent, Insertion en ajoute un, Suppr l'ôte."],
  "page_thing.opening": ["Opening", "Ouverture"],
  "page_thing.kind_body": ["Body", "Obstacle"],
  "page_thing.meeting_point": ["Meeting point", "Point de rassemblement"],
  "page_thing.kind_box": ["Box", "Appareil"],
  "page_thing.kind_reading": ["Reading", "Mesure"],
  "page_thing.down_in_mbps": ["Down, Mb/s", "Descendant, Mb/s"],
  "page_thing.up_in_mbps": ["Up, Mb/s", "Montant, Mb/s"],
  "page_thing.delay_ms": ["Delay, ms", "Latence, ms"],
  "page_thing.link_rate_mb_s": ["Link rate, Mb/s", "Débit du lien, Mb/s"],
  "page_thing.not_known": ["not known", "inconnue"],
  "page_thing.change": ["Change {kind} {id}", "Modifier : {kind} {id}"],
  "page_thing.wall_by_its_length": ["Wall {id} by its length", "Mur {id} par sa longueur"],
  "page_thing.no_room": ["none", "aucune"],
  "page_thing.from_the_left": ["From the left", "Depuis la gauche"],
  "page_thing.from_below": ["From below", "Depuis le bas"],
  "page_thing.properties": ["Properties", "Propriétés"],
  "page_thing.made_of": ["Made of", "Fait de"],
  "page_thing.thickness": ["Thickness", "Épaisseur"],
  "page_thing.as_made_mm": ["as made: {thickness} mm", "selon sa nature : {thickness} mm"],
  "page_thing.height": ["Height", "Hauteur"],
  "page_thing.to_the_ceiling": ["to the ceiling", "jusqu'au plafond"],
  "page_thing.along_the_wall": ["Along the wall", "Le long du mur"],
  "page_thing.slide": ["Slide {kind} {id}", "Glisser {kind} {id}"],
  "page_thing.sill_above_the_floor": ["Sill above the floor", "Allège au-dessus du sol"],
  "page_thing.usually": ["Usually", "D'habitude"],
  "page_thing.usually_not_known": ["not known", "on ne sait pas"],
  "page_thing.open": ["open", "ouverte"],
  "page_thing.shut": ["shut", "fermée"],
  "page_thing.name_used_everywhere": ["Name, used everywhere", "Nom, employé partout"],
  "page_thing.people_live_in_it": ["People live in it", "Des gens y vivent"],
  "page_thing.it_lies_outside_garden_drive_or": ["It lies outside: garden, drive or terrace; it may ask for signal and holds no box", "Elle est à l'extérieur : jardin, allée ou terrasse ; elle peut demander du signal et ne contient aucun appareil"],
  "page_thing.height_above_the_floor": ["Height above the floor", "Hauteur au-dessus du sol"],
  "page_thing.what_stands_on_it": ["What stands on it", "Ce qui y est écrit"],
  "page_thing.housed_in": ["Housed in", "Logé dans"],
  "page_thing.mains_sockets_there": ["Mains sockets there", "Prises de courant sur place"],
  "page_thing.class_of_equipment": ["Class of equipment", "Classe de matériel"],
  "page_thing.it_stays_when_the_new_network": ["It stays when the new network stands", "Il reste quand le nouveau réseau est en place"],
  "page_thing.where_the_service_enters": ["Where the service enters", "Où entre le service"],
  "page_thing.the_service_from_outside_enters_here": ["The service from outside enters here", "Le service du dehors entre ici"],
  "page_thing.depth": ["Depth", "Profondeur"],
  "page_thing.what_is_read": ["What", "Quoi"],
  "page_thing.on_which_box": ["On which box", "Sur quel appareil"],
  "page_thing.box_not_known": ["not known", "on ne sait pas"],
  "page_thing.split_wall": ["Split wall {id}", "Couper le mur {id}"],
  "page_thing.split_in_the_middle": ["Split in the middle", "Couper au milieu"],
  "page_thing.join_wall": ["Join wall {id}", "Joindre le mur {id}"],
  "page_thing.join_to_the_next_in_line": ["Join to the next in line", "Joindre au suivant aligné"],
  "page_thing.delete_the_room": ["Delete the room", "Supprimer la pièce"],
  "page_tracing.every_colour_at_both_ends": ["every colour, at both ends", "toutes les couleurs, aux deux bouts"],
  "page_tracing.all_but_t568a_or_t568b_is": ["all, but T568A or T568B is not known", "toutes, mais T568A ou T568B n'est pas connu"],
  "page_tracing.the_pair_not_which_wire_of": ["the pair, not which wire of it", "la paire, pas lequel de ses fils"],
  "page_tracing.only_which_two_are_twisted": ["only which two are twisted", "seulement lesquels sont torsadés ensemble"],
  "page_tracing.trust_nothing": ["nothing", "aucune"],
  "page_tracing.plug_in": ["Plug in {outlet}", "Brancher dans {outlet}"],
  "page_tracing.type_the_conductors_that_beep_together": ["Type the conductors that beep together, like 12+345, or a dash where nothing beeps.", "Saisissez les conducteurs qui sonnent ensemble, comme 12+345, ou un tiret si aucun ne sonne."],
  "page_tracing.pattern_at": ["Pattern at {end}", "Motif à {end}"],
  "page_tracing.write_down_what_was_traced": ["Write down what was traced", "Noter ce qui a été repéré"],
  "page_tracing.pattern_round": ["pattern {ties}, round {round}", "motif {ties}, tour {round}"],
  "page_tracing.no_ties": ["none", "aucun"],
  "page_tracing.tone_from": ["tone from {outlet}: {heard}", "tonalité de {outlet} : {heard}"],
  "page_tracing.link_with": ["link with {outlet}: {rate}", "lien avec {outlet} : {rate}"],
  "page_tracing.no_light": ["no light", "pas de lumière"],
  "page_tracing.joined_with": ["joined with {other}", "joint à {other}"],
  "page_tracing.not_joined_with": ["not joined with {other}", "non joint à {other}"],
  "page_tracing.ohm": ["{conductors}: {ohm} ohm", "{conductors} : {ohm} ohm"],
  "page_tracing.circuit_open": ["open", "ouvert"],
  "page_tracing.tracing": ["Tracing", "Repérage"],
  "page_tracing.tracing_starts_where_cables_meet_put": ["Tracing starts where cables meet. Put a meeting point on the plan sheet, and say which cables end there.", "Le repérage part de l'endroit où les câbles se rassemblent. Mettez un point de rassemblement sur le plan, et dites quels câbles y aboutissent."],
  "page_tracing.where_the_cables_meet": ["Where the cables meet", "Où les câbles se rassemblent"],
  "page_tracing.people": ["People", "Personnes"],
  "page_tracing.one_person": ["one", "une"],
  "page_tracing.two_people": ["two", "deux"],
  "page_tracing.strap_plugs_in_the_bag": ["Strap plugs in the bag", "Fiches de repérage dans le sac"],
  "page_tracing.colours_that_can_be_trusted": ["Colours that can be trusted", "Couleurs auxquelles se fier"],
  "page_tracing.this_device_is_with": ["This device is with", "Cet appareil est avec"],
  "page_tracing.whoever_does_both": ["whoever does both", "qui fait les deux"],
  "page_tracing.the_one_who_walks_with_the": ["the one who walks with the plugs", "qui se déplace avec les fiches"],
  "page_tracing.the_one_who_reads_at": ["the one who reads at {name}", "qui lit à {name}"],
  "page_tracing.plan_the_tracing": ["Plan the tracing", "Préparer le repérage"],
  "page_tracing.take_out_at_once_any_plug": ["Take out at once any plug that is still in: {plugs}.", "Retirez tout de suite toute fiche encore en place : {plugs}."],
  "page_tracing.left_alone": ["Left alone", "Laissés tranquilles"],
  "page_tracing.left_alone_tie_nothing_tone_nothing": ["Left alone: tie nothing, tone nothing", "Laissés tranquilles : ne rien relier, aucune tonalité"],
  "page_tracing.next": ["Next:", "Ensuite :"],
  "page_tracing.all_is_known_that_tracing_can": ["All is known that tracing can tell.", "Tout ce que le repérage peut dire est connu."],
  "page_tracing.with_the_plugs": ["With the plugs", "Avec les fiches"],
  "page_tracing.round": ["Round {number}", "Tour {number}"],
  "page_tracing.plug_out_of": ["Plug out of {outlet}", "Fiche retirée de {outlet}"],
  "page_tracing.plug": ["plug {name}", "fiche {name}"],
  "page_tracing.in_by": ["in, {by}", "en place, {by}"],
  "page_tracing.put_in": ["put in", "à mettre"],
  "page_tracing.how_the_plugs_are_made": ["How the plugs are made", "Comment sont faites les fiches"],
  "page_tracing.plug_2": ["plug {name}: {made}", "fiche {name} : {made}"],
  "page_tracing.never_located_and_still_looked_for": ["Never located, and still looked for: {outlets}.", "Jamais situées, et toujours cherchées : {outlets}."],
  "page_tracing.at": ["At {name}", "À {name}"],
  "page_tracing.for_each_cable_type_which_conductors": ["For each cable, type which conductors beep together, counted in colour order:", "Pour chaque câble, saisissez les conducteurs qui sonnent ensemble, comptés dans l'ordre des couleurs :"],
  "page_tracing.or_a_dash_where_none_do": [", or a dash where none do.", ", ou un tiret si aucun ne sonne."],
  "page_tracing.round_2": ["Round", "Tour"],
  "page_tracing.goes_to": ["goes to {places}", "va à {places}"],
  "page_tracing.not_known_yet": ["not known yet", "pas encore connu"],
  "page_tracing.possible": ["Possible: {possible}", "Possible : {possible}"],
  "page_tracing.no_outlet": ["no outlet", "aucune prise"],
  "page_tracing.left_alone_read_nothing_on_it": ["Left alone: read nothing on it.", "Laissé tranquille : n'y lisez rien."],
  "page_tracing.read": ["Read", "Lire"],
  "page_tracing.tone_or_link": ["Tone or link", "Tonalité ou lien"],
  "page_tracing.tone_at": ["Tone {outlet} at {end}", "Tonalité {outlet} à {end}"],
  "page_tracing.link_at": ["Link {outlet} at {end}", "Lien {outlet} à {end}"],
  "page_tracing.a_link": ["link", "lien"],
  "page_tracing.write_into_the_schedule_what_is": ["Write into the schedule what is sure", "Porter dans la nomenclature ce qui est sûr"],
  "page_tracing.reading_so_far": ["{n:count|reading|readings} so far", "{n:count|relevé|relevés} jusqu'ici"],
  "page_tracing.withdraw": ["Withdraw {id}", "Retirer {id}"],
  "page_tracing.was_a_mistake": ["was a mistake", "c'était une erreur"],
  "page_tracing.withdrawn": ["withdrawn", "retiré"],
  "page_tracing.who_depends_on_the_lines": ["Who depends on the lines", "Qui dépend des lignes"],
  "page_tracing.volts_on_every_pair": ["Volts on every pair", "Volts sur chaque paire"],
  "page_tracing.does_a_modem_synchronise": ["Does a modem synchronise", "Un modem se synchronise-t-il"],
  "page_tracing.volts_measured": ["Volts measured", "Volts mesurés"],
  "page_tracing.line_taken_off_at_the_demarcation": ["Line taken off at the demarcation", "Ligne débranchée à l'arrivée"],
  "page_tracing.plate": ["plate {outlet}", "prise {outlet}"],
  "page_tracing.all_at": ["all at {at}", "tous à {at}"],
  "page_tracing.a_modem_synchronises": ["a modem synchronises", "un modem se synchronise"],
  "page_tracing.no_modem_synchronises": ["no modem synchronises", "aucun modem ne se synchronise"],
  "page_tracing.nobody_depends_on_it": ["nobody depends on it", "personne n'en dépend"],
  "page_tracing.about": ["About", "Au sujet de"],
  "page_tracing.about_which_cable": ["{title}: about which cable", "{title} : de quel câble s'agit-il"],
  "page_tracing.every_cable_here": ["every cable here", "tous les câbles d'ici"],
  "page_tracing.cable": ["cable {id}", "câble {id}"],
  "page_tracing.cable_between_plates": ["cable {id}, between plates", "câble {id}, entre prises"],
  "page_tracing.plate_2": ["plate {id}", "prise {id}"],
  "page_tracing.highest_dc_v": ["Highest dc, V", "Plus haut continu, V"],
  "page_tracing.highest_ac_v": ["Highest ac, V", "Plus haut alternatif, V"],
  "page_tracing.record_the_volts": ["Record the volts", "Enregistrer les volts"],
  "page_tracing.a_voltage_found_may_be_recorded": ["A voltage found may be recorded by itself; a line is quiet only where dc and ac are both measured.", "Une tension trouvée peut être enregistrée seule ; une ligne n'est calme que si continu et alternatif sont mesurés tous deux."],
  "page_tracing.nobody_depends_on_the_lines": ["Nobody depends on the lines", "Personne ne dépend des lignes"],
  "page_tracing.nobody": ["Nobody", "Personne"],
  "page_tracing.somebody_depends_on_a_line": ["Somebody depends on a line", "Quelqu'un dépend d'une ligne"],
  "page_tracing.somebody_does": ["Somebody does", "Quelqu'un, si"],
  "page_tracing.no_modem_synchronises_2": ["No modem synchronises", "Aucun modem ne se synchronise"],
  "page_tracing.none_does": ["None does", "Aucun"],
  "page_tracing.a_modem_synchronises_2": ["A modem synchronises", "Un modem se synchronise"],
  "page_tracing.one_does": ["One does", "Un, si"],
  "page_tracing.whoever_does_is_entered_with_their": ["Whoever does is entered with their cable, above under “Somebody depends on it”.", "Qui en dépend est saisi avec son câble, plus haut, sous « Quelqu'un en dépend »."],
  "page_tracing.line_checks": ["Line checks", "Contrôles des lignes"],
  "page_tracing.before_anything_is_tied": ["Before anything is tied", "Avant de relier quoi que ce soit"],
  "page_tracing.expect": ["Expect: {expect}.", "Attendu : {expect}."],
  "page_tracing.not_on_record_for": ["Not on record for {runs}.", "Rien d'enregistré pour {runs}."],
  "page_tracing.cable_2": ["Cable {run}: {because}.", "Câble {run} : {because}."],
  "page_tracing.it_is_held_at_once": ["It is held at once.", "Il est bloqué aussitôt."],
  "page_tracing.note_as": ["Note {run} as {state}", "Noter {run} comme {state}"],
  "page_tracing.take_the_line_off_while_you": ["Take the line off while you trace, if the occupant agrees", "Débrancher la ligne pendant le repérage, si l'occupant est d'accord"],
  "page_tracing.take_the_line_off": ["Take the line off", "Débrancher la ligne"],
  "page_tracing.the_occupant_who_agrees": ["The occupant who agrees", "L'occupant qui est d'accord"],
  "page_tracing.it_is_off_and_they_agreed": ["It is off, and they agreed", "Elle est débranchée, avec accord"],
  "page_tracing.measure_again_or_one_cable_or": ["Measure again, or one cable or plate by itself", "Remesurer, ou un seul câble ou une seule prise"],
  "page_tracing.line_check_on_record": ["{n:count|line check|line checks} on record", "{n:count|contrôle de ligne enregistré|contrôles de ligne enregistrés}"],
  "page_tracing.line_connected_again_and_tested": ["Line connected again and tested", "Ligne rebranchée et testée"],
  "page_tracing.give_the_line_back": ["Give the line back", "Rendre la ligne"],
  "page_tracing.when_the_tracing_is_over_give": ["When the tracing is over: give the line back at {at}", "Le repérage fini : rendez la ligne à {at}"],
  "page_tracing.tested_with": ["Tested with", "Testé avec"],
  "page_tracing.what_was_tested_dial_tone_or": ["What was tested: dial tone, or sync", "Ce qui a été testé : tonalité, ou synchronisation"],
  "page_tracing.it_is_connected_and_works": ["It is connected and works", "Elle est rebranchée et marche"],
  "page_tracing.said_of": ["{where}: {what}", "{where} : {what}"],
  "page_tracing.volts_dc": ["{v} V dc", "{v} V continu"],
  "page_tracing.volts_ac": ["{v} V ac", "{v} V alternatif"],
  "page_work.signed": ["Signed: {by}, {date}. “{words}”", "Signé : {by}, {date}. « {words} »"],
  "page_work.signed_2": ["Signed: {by}, {date}", "Signé : {by}, {date}"],
  "page_work.signed_by": ["Signed by", "Signé par"],
  "page_work.in_what_words_what_was_tested": ["In what words: what was tested or agreed", "En quels mots : ce qui a été testé ou convenu"],
  "page_work.record_it": ["Record it", "L'enregistrer"],
  "page_work.at_the_door": ["At the door", "À la porte"],
  "page_work.stage_before": ["Before", "Avant"],
  "page_work.stage_trace": ["Trace", "Repérer"],
  "page_work.stage_test": ["Test", "Tester"],
  "page_work.stage_pull": ["Pull", "Tirer"],
  "page_work.stage_terminate": ["Terminate", "Raccorder"],
  "page_work.stage_rack": ["Rack", "Baie"],
  "page_work.stage_switch_on": ["Switch on", "Mise en marche"],
  "page_work.stage_prove": ["Prove", "Prouver"],
  "page_work.asked_who_depends_on_an_alarm": ["Asked who depends on an alarm, lift, entry phone, fax or telephone", "Demandé qui dépend d'une alarme, d'un ascenseur, d'un interphone, d'un fax ou d'un téléphone"],
  "page_work.checked_whether_a_licence_is_needed": ["Checked whether a licence is needed here", "Vérifié s'il faut une habilitation ici"],
  "page_work.lead_paint_to_be_expected": ["Lead paint to be expected", "Peinture au plomb à craindre"],
  "page_work.asbestos_to_be_expected": ["Asbestos to be expected", "Amiante à craindre"],
  "page_work.old_open_wiring_seen": ["Old open wiring seen", "Ancien câblage apparent vu"],
  "page_work.fire_rated_walls_or_floors_are": ["Fire-rated walls or floors are crossed", "Des murs ou planchers coupe-feu sont traversés"],
  "page_work.the_landlord_agrees": ["The landlord agrees", "Le propriétaire est d'accord"],
  "page_work.and_more": ["{names} and {n} more", "{names} et {n} de plus"],
  "page_work.not_done_after_all": ["Not done after all: {title}", "Pas fait, finalement : {title}"],
  "page_work.done_title": ["Done: {title}", "Fait : {title}"],
  "page_work.the_order_of_work_follows_from": ["The order of work follows from the plan.", "L'ordre des travaux découle du plan."],
  "page_work.at_the_door_before_a_tool": ["At the door, before a tool leaves the van", "À la porte, avant de sortir un outil"],
  "page_work.local_codes_and_licensed_trades_come": ["Local codes and licensed trades come first; this is no electrician.", "Les règles locales et les métiers réglementés passent d'abord ; ceci n'est pas un électricien."],
  "page_work.at_the_door_2": ["At the door: {what}", "À la porte : {what}"],
  "page_work.a_new_plan_would_change_some": ["A new plan would change some of it: see the quote.", "Un nouveau plan en changerait une partie : voir le devis."],
  "page_work.of_steps_done": ["{done} of {n} steps done.", "{done} étapes sur {n} faites."],
  "page_work.only_what_is_open": ["Only what is open", "Seulement ce qui reste"],
  "page_work.steps_done": ["Steps done", "Étapes faites"],
  "page_work.visit": ["Visit {visit}", "Visite {visit}"],
  "page_work.by_the_household": ["By the household", "Par le foyer"],
  "page_work.step_about": ["{n:count|step|steps}, about {time}", "{n:count|étape|étapes}, environ {time}"],
  "page_work.person": [", person {person}", ", personne {person}"],
  "page_work.tools": ["Tools: {tools}", "Outils : {tools}"],
  "page_work.locked": ["Locked.", "Bloqué."],
  "page_work.record_the_sign_off_under_cables": ["Record the sign-off under Cables", "Enregistrer la signature sous Câbles"],
  "page_work.after_steps": ["After {waits}", "Après {waits}"],
  "page_work.ticked_off_although_this_was_open": ["Ticked off although this was open: {despite}.", "Cochée alors que ceci restait ouvert : {despite}."],
  "page_work.come_first_and_are_not_ticked": ["{waits} come first and are not ticked off.", "{waits} viennent d'abord et ne sont pas cochées."],
  "page_work.comes_first_and_is_not_ticked": ["{waits} comes first and is not ticked off.", "{waits} vient d'abord et n'est pas cochée."],
  "page_work.done_all_the_same_and_note": ["Done all the same, and note that", "Fait quand même, et le noter"],
  "page_work.leave_it_open": ["Leave it open", "Laisser ouvert"],
  "page_work.done_by": ["Done, {by}", "Fait, {by}"],
  "page_work.tick_it_off": ["Tick it off", "Cocher"],
  "page_work.ticked_off_and_no_longer_in": ["Ticked off, and no longer in the plan", "Cochées, et plus dans le plan"],
  "page_work.although_open": [". Although this was open: {despite}", ". Bien que ceci restât ouvert : {despite}"],
  "page_work.sending": ["Sending …", "Envoi…"],
  "page_work.photo_add_another": ["{n:count|photo|photos}; add another", "{n:count|photo|photos} ; en ajouter une"],
  "page_work.photograph_first": ["Photograph first", "D'abord photographier"],
  "page_work.photo_of": ["Photo {number} of: {title}", "Photo {number} de : {title}"],
  "page_work.take_away": ["Take away", "Ôter"],
  "page_work.photo_of_2": ["photo {number} of: {title}", "la photo {number} de : {title}"],
  "terms.living room": ["living room", "séjour"],
  "terms.down": ["down", "descente"],
  "terms.delay": ["delay", "latence"],
  "terms.outlets": ["outlets", "prises"],
  "terms.reuse": ["reuse", "réemploi"],
  "terms.repair": ["repair", "réparation"],
  "terms.pull cord": ["pull cord", "tirage avec l'ancien câble"],
  "terms.new cable": ["new cable", "nouveau câble"],
  "terms.surface cable": ["surface cable", "câble en apparent"],
  "terms.other medium": ["other medium", "autre support"],
  "terms.measure": ["measure", "mesure"],
  "terms.open a box": ["open a box", "ouverture d'une boîte"],
  "terms.look in the bay": ["look in the bay", "regard dans la cloison"],
  "terms.Use the old cable as it is": ["Use the old cable as it is", "Utiliser l'ancien câble tel quel"],
  "terms.Find the fault and mend the old cable": ["Find the fault and mend the old cable", "Trouver le défaut et réparer l'ancien câble"],
  "terms.Fish a new cable": ["Fish a new cable", "Passer un nouveau câble dans la cloison"],
  "terms.Send Ethernet over the old coax": ["Send Ethernet over the old coax", "Faire passer l'Ethernet par l'ancien coaxial"],
  "terms.Pull a fibre": ["Pull a fibre", "Tirer une fibre"],
  "terms.Tug and tone: does the far end move when this end is drawn": ["Tug and tone: does the far end move when this end is drawn", "Tirer et écouter : l'autre bout bouge-t-il quand on tire celui-ci"],
  "terms.Wire map and loop resistance and a link at full rate": ["Wire map and loop resistance and a link at full rate", "Schéma de câblage, résistance de boucle et un lien à plein débit"],
  "terms.Open the box where the fault is thought to be and look": ["Open the box where the fault is thought to be and look", "Ouvrir la boîte où l'on soupçonne le défaut et regarder"],
  "terms.Camera or magnet in the bay to find fire blocks": ["Camera or magnet in the bay to find fire blocks", "Caméra ou aimant dans la cloison pour trouver les entretoises"],
  "terms.plan": ["plan", "abonnement"],
  "terms.pair open": ["pair open", "paire ouverte"],
  "terms.half duplex": ["half duplex", "semi-duplex"],
  "terms.old device": ["old device", "ancien appareil"],
  "terms.neighbour": ["neighbour", "voisin"],
  "terms.wrong access point": ["wrong access point", "mauvais point d'accès"],
  "terms.walls": ["walls", "murs"],
  "terms.as predicted": ["as predicted", "comme prédit"],
  "terms.the subscribed plan": ["the subscribed plan", "l'abonnement souscrit"],
  "terms.What is paid for arrives, and the house passes it on": ["What is paid for arrives, and the house passes it on", "Ce qui est payé arrive, et la maison le transmet"],
  "terms.Nothing in the house is at fault; only a faster plan would be faster": ["Nothing in the house is at fault; only a faster plan would be faster", "Rien n'est en défaut dans la maison ; seul un abonnement plus rapide irait plus vite"],
  "terms.the modem or the provider": ["the modem or the provider", "le modem ou le fournisseur"],
  "terms.Less than what is paid for arrives at the modem itself": ["Less than what is paid for arrives at the modem itself", "Moins que ce qui est payé arrive déjà au modem"],
  "terms.Start the modem anew with nothing else plugged in; if it stays slow it is the provider's to mend": ["Start the modem anew with nothing else plugged in; if it stays slow it is the provider's to mend", "Redémarrer le modem sans rien d'autre de branché ; s'il reste lent, c'est au fournisseur de réparer"],
  "terms.a link at 100 Mb/s": ["a link at 100 Mb/s", "un lien à 100 Mb/s"],
  "terms.Two of the four pairs do not get through, so the link falls back to 100 Mb/s": ["Two of the four pairs do not get through, so the link falls back to 100 Mb/s", "Deux des quatre paires ne passent pas : le lien retombe à 100 Mb/s"],
  "terms.Read the wire map of that run and terminate it anew; a port or a cord may be at fault too": ["Read the wire map of that run and terminate it anew; a port or a cord may be at fault too", "Lire le schéma de câblage de ce câble et refaire ses extrémités ; un port ou un cordon peut aussi être en cause"],
  "terms.a link at half duplex": ["a link at half duplex", "un lien en semi-duplex"],
  "terms.One end sends and listens in turn, the other does both at once": ["One end sends and listens in turn, the other does both at once", "Un bout émet et écoute à tour de rôle, l'autre fait les deux à la fois"],
  "terms.Set both ends to negotiate by themselves; replace a port that cannot": ["Set both ends to negotiate by themselves; replace a port that cannot", "Laisser les deux bouts négocier seuls ; remplacer un port qui ne le peut pas"],
  "terms.a wireless hop": ["a wireless hop", "un saut sans fil"],
  "terms.The access point gets its data over the air and takes the same air twice": ["The access point gets its data over the air and takes the same air twice", "Le point d'accès reçoit ses données par l'air et prend deux fois le même air"],
  "terms.Give it a cable": ["Give it a cable", "Lui donner un câble"],
  "terms.the device's own radio": ["the device's own radio", "la radio de l'appareil lui-même"],
  "terms.The device has fewer streams or a narrower channel than the access point": ["The device has fewer streams or a narrower channel than the access point", "L'appareil a moins de flux ou un canal plus étroit que le point d'accès"],
  "terms.Test with a newer device; an adapter or a cable helps the old one": ["Test with a newer device; an adapter or a cable helps the old one", "Essayer avec un appareil plus récent ; un adaptateur ou un câble aide l'ancien"],
  "terms.a busy channel": ["a busy channel", "un canal occupé"],
  "terms.Others use the same channel most of the time": ["Others use the same channel most of the time", "D'autres utilisent le même canal la plupart du temps"],
  "terms.Change the channel or the band": ["Change the channel or the band", "Changer de canal ou de bande"],
  "terms.a connection to the wrong radio": ["a connection to the wrong radio", "une connexion à la mauvaise radio"],
  "terms.The device clings to a far access point or to the slow band": ["The device clings to a far access point or to the slow band", "L'appareil s'accroche à un point d'accès lointain ou à la bande lente"],
  "terms.Let it connect anew where it stands; lower the power of the far radio": ["Let it connect anew where it stands; lower the power of the far radio", "Le laisser se reconnecter sur place ; baisser la puissance de la radio lointaine"],
  "terms.the way through the walls": ["the way through the walls", "le passage à travers les murs"],
  "terms.Less power gets through than the walls were taken for": ["Less power gets through than the walls were taken for", "Il passe moins de puissance que ce que les murs laissaient attendre"],
  "terms.An access point nearer; first see that doors and the device's case were as usual": ["An access point nearer; first see that doors and the device's case were as usual", "Un point d'accès plus proche ; vérifier d'abord que les portes et l'étui de l'appareil étaient comme d'habitude"],
  "terms.modem down": ["modem down", "débit descendant au modem"],
  "terms.modem up": ["modem up", "débit montant au modem"],
  "terms.run link": ["run link", "lien du câble"],
  "terms.run down": ["run down", "débit descendant au bout du câble"],
  "terms.run up": ["run up", "débit montant au bout du câble"],
  "terms.near power": ["near power", "puissance à deux mètres"],
  "terms.near down": ["near down", "débit descendant à deux mètres"],
  "terms.room power": ["room power", "puissance dans la pièce"],
  "terms.room down": ["room down", "débit descendant dans la pièce"],
  "terms.room up": ["room up", "débit montant dans la pièce"],
  "terms.room link": ["room link", "lien radio dans la pièce"],
  "terms.device near down": ["device near down", "débit descendant de l'appareil à deux mètres"],
  "terms.other device down": ["other device down", "débit descendant d'un autre appareil"],
  "terms.channel busy": ["channel busy", "occupation du canal"],
  "terms.right radio": ["right radio", "bonne radio"],
  "terms.fed by cable": ["fed by cable", "alimenté par câble"],
  "terms.run delay": ["run delay", "latence du câble"],
  "terms.device near link": ["device near link", "lien radio de l'appareil à deux mètres"],
  "terms.other device link": ["other device link", "lien radio d'un autre appareil"],
  "terms.plug-in radio adapter": ["plug-in radio adapter", "adaptateur radio enfichable"],
  "terms.Battery": ["Battery", "Onduleur"],
  "terms.shelf": ["shelf", "étagère"],
  "terms.better": ["better", "mieux"],
  "terms.no different": ["no different", "sans différence"],
  "terms.worse": ["worse", "moins bien"],
  "terms.cannot tell": ["cannot tell", "sans réponse"],
  "terms.room": ["room", "pièce"],
  "terms.needs": ["needs", "besoins"],
  "terms.before": ["before", "avant"],
  "terms.after": ["after", "après"],
  "terms.range after": ["range after", "plage après"],
  "terms.up": ["up", "montée"],
  "terms.at once": ["at once", "ensemble"],
  "terms.narrowest link after": ["narrowest link after", "maillon le plus étroit après"],
  "terms.met": ["met", "satisfait"],
  "terms.visit": ["visit", "visite"],
  "terms.at": ["at", "à"],
  "terms.who": ["who", "qui"],
  "terms.task": ["task", "tâche"],
  "terms.where": ["where", "où"],
  "terms.min": ["min", "min"],
  "terms.what": ["what", "quoi"],
  "terms.cable": ["cable", "câble"],
  "terms.ends": ["ends", "extrémités"],
  "terms.likely Mb/s": ["likely Mb/s", "Mb/s probables"],
  "terms.maybe Mb/s": ["maybe Mb/s", "Mb/s possibles"],
  "terms.PoE": ["PoE", "PoE"],
  "terms.use": ["use", "utilisable"],
  "terms.why": ["why", "pourquoi"],
  "terms.on a closer look": ["on a closer look", "de plus près"],
  "terms.storey": ["storey", "niveau"],
  "terms.low": ["low", "bas"],
  "terms.high": ["high", "haut"],
  "terms.band": ["band", "bande"],
  "terms.narrowest link": ["narrowest link", "maillon le plus étroit"],
  "terms.question": ["question", "question"],
  "terms.now": ["now", "maintenant"],
  "terms.chance": ["chance", "probabilité"],
  "terms.may turn": ["may turn", "peut changer"],
  "terms.what it means": ["what it means", "ce que cela veut dire"],
  "terms.what to do": ["what to do", "que faire"],
  "terms.stage": ["stage", "étape"],
  "terms.device": ["device", "appareil"],
  "terms.quantity": ["quantity", "grandeur"],
  "terms.value": ["value", "valeur"],
  "terms.device's ceiling": ["device's ceiling", "plafond de l'appareil"],
  "terms.by cable": ["by cable", "par câble"],
  "terms.does not fit the others": ["does not fit the others", "ne s'accorde pas aux autres"],
  "terms.used": ["used", "utilisée"],
  "terms.more loss, dB": ["more loss, dB", "perte en plus, dB"],
  "terms.known to, dB": ["known to, dB", "connue à, dB"],
  "terms.houses": ["houses", "maisons"],
  "terms.readings": ["readings", "mesures"],
  "terms.link": ["link", "lien"],
  "terms.kind": ["kind", "type"],
  "terms.duplex": ["duplex", "duplex"],
  "terms.channel": ["channel", "canal"],
  "terms.pin": ["pin", "broche"],
  "terms.pair": ["pair", "paire"],
  "terms.wire": ["wire", "fil"],
  "terms.old telephone wire": ["old telephone wire", "ancien fil téléphonique"],
  "terms.not known yet": ["not known yet", "pas encore connu"],
  "terms.left alone": ["left alone", "on n'y touche pas"],
  "terms.too late": ["too late", "trop tard"],
  "terms.yes": ["yes", "oui"],
  "terms.no": ["no", "non"],
  "terms.Plan": ["Plan", "Plan"],
  "terms.Papers": ["Papers", "Documents"],
  "terms.Demo": ["Demo", "Démonstration"],
  "terms.Handover record": ["Handover record", "Dossier de remise"],
  "terms.Map": ["Map", "Carte"],
  "terms.Next": ["Next", "Ensuite"],
  "terms.Quote": ["Quote", "Devis"],
  "terms.Why": ["Why", "Pourquoi"],
  "terms.Work": ["Work", "Travaux"],
  "terms.papers": ["papers", "documents"],
  "terms.record": ["record", "dossier"],
  "terms.times": ["times", "horaires"],
  "terms.waiting": ["waiting", "en attente"],
  "terms.what the old cables can do": ["what the old cables can do", "ce que peuvent les anciens câbles"],
  "terms.what the house gets today": ["what the house gets today", "ce que la maison reçoit aujourd'hui"],
  "terms.what stands where, and what feeds it": ["what stands where, and what feeds it", "ce qui se place où, et ce qui l'alimente"],
  "terms.channels, and what the house will get": ["channels, and what the house will get", "les canaux, et ce que la maison recevra"],
  "terms.switch, power, parts and order of work": ["switch, power, parts and order of work", "commutateur, alimentation, pièces et ordre des travaux"],
  "terms.the auditor reads it": ["the auditor reads it", "le contrôleur relit"],
  "terms.what is signed, and what a new plan would change": ["what is signed, and what a new plan would change", "ce qui est signé, et ce qu'un nouveau plan changerait"],
  "terms.unknown": ["unknown", "inconnu"],
  "terms.other": ["other", "autre"],
  "terms.none": ["none", "aucun"],
  "terms.certified": ["certified", "certifié"],
  "terms.measured": ["measured", "mesuré"],
  "terms.inferred": ["inferred", "déduit"],
  "terms.likely": ["likely", "probable"],
  "terms.try it": ["try it", "à essayer"],
  "terms.at risk": ["at risk", "incertain"],
  "terms.not met": ["not met", "non satisfait"],
  "terms.serious": ["serious", "grave"],
  "terms.mend": ["mend", "à corriger"],
  "terms.ask": ["ask", "à demander"],
  "terms.window": ["window", "fenêtre"],
  "terms.gap": ["gap", "passage"],
  "terms.fridge": ["fridge", "réfrigérateur"],
  "terms.bath": ["bath", "baignoire"],
  "terms.boiler": ["boiler", "chaudière"],
  "terms.duct": ["duct", "gaine d'air"],
  "terms.mirror": ["mirror", "miroir"],
  "terms.chimney": ["chimney", "cheminée"],
  "terms.wall": ["wall", "mur"],
  "terms.body": ["body", "objet"],
  "terms.open below": ["open below", "ouvert par-dessous"],
  "terms.open above": ["open above", "ouvert par-dessus"],
  "terms.closed": ["closed", "fermé"],
  "terms.hollow": ["hollow", "creux"],
  "terms.solid": ["solid", "plein"],
  "terms.allowed": ["allowed", "permis"],
  "terms.forbidden": ["forbidden", "interdit"],
  "terms.timber": ["timber", "bois"],
  "terms.mixed": ["mixed", "mixte"],
  "terms.masonry": ["masonry", "maçonnerie"],
  "terms.telephone": ["telephone", "téléphone"],
  "terms.coax": ["coax", "coaxial"],
  "terms.data": ["data", "données"],
  "terms.blank plate": ["blank plate", "plaque pleine"],
  "terms.panel": ["panel", "panneau"],
  "terms.demarcation point": ["demarcation point", "point de démarcation"],
  "terms.junction box": ["junction box", "boîte de dérivation"],
  "terms.open wall": ["open wall", "mur ouvert"],
  "terms.cupboard": ["cupboard", "placard"],
  "terms.flush metal can": ["flush metal can", "coffret métallique encastré"],
  "terms.attic": ["attic", "grenier"],
  "terms.home run": ["home run", "câble direct"],
  "terms.daisy chain": ["daisy chain", "en chaîne"],
  "terms.spliced": ["spliced", "épissé"],
  "terms.tap": ["tap", "dérivation"],
  "terms.live telephone": ["live telephone", "téléphone en service"],
  "terms.alarm": ["alarm", "alarme"],
  "terms.dead": ["dead", "inactif"],
  "terms.damaged": ["damaged", "endommagé"],
  "terms.good": ["good", "bon"],
  "terms.open": ["open", "ouvert"],
  "terms.shut": ["shut", "fermé"],
  "terms.short": ["short", "court-circuit"],
  "terms.crossed": ["crossed", "croisé"],
  "terms.reversed": ["reversed", "inversé"],
  "terms.split pair": ["split pair", "paire dépairée"],
  "terms.quad": ["quad", "quarte"],
  "terms.bell wire": ["bell wire", "fil de sonnette"],
  "terms.dsl": ["dsl", "DSL"],
  "terms.wireless": ["wireless", "sans fil"],
  "terms.twisted pair": ["twisted pair", "paire torsadée"],
  "terms.telephone pair": ["telephone pair", "paire téléphonique"],
  "terms.power line": ["power line", "courant porteur"],
  "terms.cord": ["cord", "cordon"],
  "terms.run": ["run", "câble du mur"],
  "terms.wireless hop": ["wireless hop", "saut sans fil"],
  "terms.air": ["air", "air"],
  "terms.monitored alarm": ["monitored alarm", "alarme télésurveillée"],
  "terms.pendant alarm": ["pendant alarm", "téléassistance"],
  "terms.entry phone": ["entry phone", "interphone"],
  "terms.lift": ["lift", "ascenseur"],
  "terms.fax": ["fax", "télécopieur"],
  "terms.television": ["television", "télévision"],
  "terms.satellite": ["satellite", "satellite"],
  "terms.other household": ["other household", "autre foyer"],
  "terms.in use": ["in use", "en service"],
  "terms.believed unused": ["believed unused", "sans doute plus utilisé"],
  "terms.moved and tested": ["moved and tested", "déplacé et testé"],
  "terms.released": ["released", "libéré"],
  "terms.asbestos": ["asbestos", "amiante"],
  "terms.lead paint": ["lead paint", "peinture au plomb"],
  "terms.knob and tube": ["knob and tube", "fils nus sur isolateurs"],
  "terms.made safe": ["made safe", "neutralisé"],
  "terms.tested clear": ["tested clear", "absent d'après l'essai"],
  "terms.owned": ["owned", "en propriété"],
  "terms.rented": ["rented", "en location"],
  "terms.during": ["during", "pendant"],
  "terms.pass": ["pass", "réussi"],
  "terms.fail": ["fail", "échec"],
  "terms.not tested": ["not tested", "non testé"],
  "terms.continuity": ["continuity", "continuité"],
  "terms.resistance": ["resistance", "résistance"],
  "terms.tone": ["tone", "tonalité"],
  "terms.bridge": ["bridge", "pontage"],
  "terms.withdrawn": ["withdrawn", "retiré"],
  "terms.loud": ["loud", "fort"],
  "terms.faint": ["faint", "faible"],
  "terms.who depends": ["who depends", "qui en dépend"],
  "terms.voltage": ["voltage", "tension"],
  "terms.modem sync": ["modem sync", "synchronisation du modem"],
  "terms.disconnected": ["disconnected", "débranché"],
  "terms.reconnected": ["reconnected", "rebranché"],
  "terms.screws": ["screws", "vis"],
  "terms.reversible": ["reversible", "réversible"],
  "terms.access point": ["access point", "point d'accès"],
  "terms.router": ["router", "routeur"],
  "terms.switch": ["switch", "commutateur"],
  "terms.battery": ["battery", "onduleur"],
  "terms.rack": ["rack", "baie"],
  "terms.modem": ["modem", "modem"],
  "terms.metric": ["metric", "métrique"],
  "terms.imperial": ["imperial", "impérial"],
  "terms.open board": ["open board", "panneau ouvert"],
  "terms.flush wall can": ["flush wall can", "coffret encastré"],
  "terms.basement": ["basement", "sous-sol"],
  "terms.attic in summer": ["attic in summer", "grenier en été"],
  "terms.storeys": ["storeys", "niveaux"],
  "terms.doors": ["doors", "portes"],
  "terms.windows": ["windows", "fenêtres"],
  "terms.rooms": ["rooms", "pièces"],
  "terms.nothing": ["nothing", "rien"],
  "terms.a line in use or something else that is fed": ["a line in use or something else that is fed", "une ligne en service ou autre chose d'alimenté"],
  "terms.a telephone line at rest": ["a telephone line at rest", "une ligne téléphonique au repos"],
  "terms.something fed from elsewhere": ["something fed from elsewhere", "quelque chose d'alimenté d'ailleurs"],
  "terms.something that is fed": ["something that is fed", "quelque chose d'alimenté"],
  "terms.a door bell or an entry system": ["a door bell or an entry system", "une sonnette ou un interphone"],
  "terms.a telephone that rings": ["a telephone that rings", "un téléphone qui sonne"],
  "terms.mains": ["mains", "le secteur"],
  "terms.Find what feeds it before anything is tied": ["Find what feeds it before anything is tied", "Trouvez ce qui l'alimente avant de relier quoi que ce soit"],
  "terms.Find whose line it is": ["Find whose line it is", "Trouvez à qui est la ligne"],
  "terms.Find its transformer first": ["Find its transformer first", "Trouvez d'abord son transformateur"],
  "terms.Touch no bare conductor and find whose line it is": ["Touch no bare conductor and find whose line it is", "Ne touchez aucun conducteur nu et trouvez à qui est la ligne"],
  "terms.Touch nothing and close the box: a licensed electrician comes first": ["Touch nothing and close the box: a licensed electrician comes first", "Ne touchez à rien et refermez la boîte : un électricien habilité passe d'abord"],
  "terms.Have the monitoring company confirm a test signal by the other path and record their words": ["Have the monitoring company confirm a test signal by the other path and record their words", "Faites confirmer par la société de télésurveillance un signal d'essai sur l'autre chemin et notez sa réponse"],
  "terms.Test the pendant on its new line with the call centre and record their words": ["Test the pendant on its new line with the call centre and record their words", "Testez la téléassistance sur sa nouvelle ligne avec la centrale et notez sa réponse"],
  "terms.Test call and lock over the new path and record who agreed": ["Test call and lock over the new path and record who agreed", "Testez l'appel et la gâche par le nouveau chemin et notez qui a donné son accord"],
  "terms.Obtain the lift firm's written release and record its words": ["Obtain the lift firm's written release and record its words", "Obtenez l'accord écrit de l'ascensoriste et notez-en les termes"],
  "terms.Move the modem feed or end the service and record who agreed": ["Move the modem feed or end the service and record who agreed", "Déplacez l'alimentation du modem ou résiliez l'accès et notez qui a donné son accord"],
  "terms.Send and receive a page over the new line or record that the fax is given up": ["Send and receive a page over the new line or record that the fax is given up", "Envoyez et recevez une page par la nouvelle ligne ou notez que la télécopie est abandonnée"],
  "terms.Ring and talk over the new line or record that the line is given up": ["Ring and talk over the new line or record that the line is given up", "Appelez et parlez sur la nouvelle ligne ou notez que la ligne est abandonnée"],
  "terms.Watch every channel that is used over the new path or record that it is given up": ["Watch every channel that is used over the new path or record that it is given up", "Regardez chaque chaîne utilisée par le nouveau chemin ou notez que c'est abandonné"],
  "terms.See the picture of every receiver over the new path or record that it is given up": ["See the picture of every receiver over the new path or record that it is given up", "Voyez l'image de chaque récepteur par le nouveau chemin ou notez que c'est abandonné"],
  "terms.Move the modem's feed or end the service and record who agreed": ["Move the modem's feed or end the service and record who agreed", "Déplacez l'arrivée du modem ou résiliez l'accès et notez qui a donné son accord"],
  "terms.Have the other household agree in writing and test with them": ["Have the other household agree in writing and test with them", "Obtenez l'accord écrit de l'autre foyer et testez avec lui"],
  "terms.Record who depended on it and what they agreed": ["Record who depended on it and what they agreed", "Notez qui en dépendait et ce qui a été convenu"],
  "terms.Photograph the box and every joint before touching anything": ["Photograph the box and every joint before touching anything", "Photographier la boîte et chaque raccord avant de toucher à quoi que ce soit"],
  "terms.A picture in which each conductor can be followed": ["A picture in which each conductor can be followed", "Une photo où l'on peut suivre chaque conducteur"],
  "terms.Ask who uses a telephone, fax, alarm, pendant, entry phone, lift or DSL on any old wire": ["Ask who uses a telephone, fax, alarm, pendant, entry phone, lift or DSL on any old wire", "Demander qui emploie un téléphone, un fax, une alarme, un médaillon de téléassistance, un interphone, un ascenseur ou le DSL sur un vieux fil"],
  "terms.A name for each or a clear no": ["A name for each or a clear no", "Un nom pour chacun, ou un non clair"],
  "terms.Look for mains cable in the same box and try each conductor with a non-contact tester": ["Look for mains cable in the same box and try each conductor with a non-contact tester", "Chercher un câble de secteur dans la même boîte et passer chaque conducteur au détecteur sans contact"],
  "terms.No mains in the box and no response": ["No mains in the box and no response", "Pas de secteur dans la boîte et aucune réaction"],
  "terms.Mains in a telephone box is for a licensed electrician. Stop there and close the box": ["Mains in a telephone box is for a licensed electrician. Stop there and close the box", "Du secteur dans une boîte de téléphone est l'affaire d'un électricien habilité. S'arrêter là et refermer la boîte"],
  "terms.Do not work on outside lines with thunder about": ["Do not work on outside lines with thunder about", "Ne pas travailler sur des lignes extérieures par temps d'orage"],
  "terms.A quiet sky": ["A quiet sky", "Un ciel calme"],
  "terms.Lightning reaches indoor telephone wire": ["Lightning reaches indoor telephone wire", "La foudre atteint les fils de téléphone à l'intérieur"],
  "terms.Measure dc volts on every pair and from each conductor to earth": ["Measure dc volts on every pair and from each conductor to earth", "Mesurer la tension continue sur chaque paire et de chaque conducteur à la terre"],
  "terms.Below 3 V on every pair": ["Below 3 V on every pair", "Moins de 3 V sur chaque paire"],
  "terms.About 50 V dc idle is a live line. Ringing is about 90 V ac at 20 Hz and can come at any moment: hold the meter by its insulation and touch no bare conductor": ["About 50 V dc idle is a live line. Ringing is about 90 V ac at 20 Hz and can come at any moment: hold the meter by its insulation and touch no bare conductor", "Environ 50 V continu au repos, c'est une ligne active. La sonnerie est d'environ 90 V alternatif à 20 Hz et peut venir à tout moment : tenir les pointes par l'isolant et ne toucher aucun conducteur nu"],
  "terms.Measure ac volts on every pair": ["Measure ac volts on every pair", "Mesurer la tension alternative sur chaque paire"],
  "terms.Below 1 V on every pair": ["Below 1 V on every pair", "Moins de 1 V sur chaque paire"],
  "terms.8 to 24 V ac is a bell or entry system: find its transformer first": ["8 to 24 V ac is a bell or entry system: find its transformer first", "De 8 à 24 V alternatif, c'est une sonnette ou un interphone : trouver d'abord son transformateur"],
  "terms.Unplug or disconnect at the demarcation point, on the customer's side only": ["Unplug or disconnect at the demarcation point, on the customer's side only", "Débrancher ou déconnecter au point de démarcation, du côté du client seulement"],
  "terms.Dial tone at the demarcation and 0 V on the house wire": ["Dial tone at the demarcation and 0 V on the house wire", "Tonalité au point de démarcation et 0 V sur les fils de la maison"],
  "terms.The provider's side is not ours to open": ["The provider's side is not ours to open", "Le côté de l'opérateur n'est pas à nous d'ouvrir"],
  "terms.Measure every pair again at the place of the cut": ["Measure every pair again at the place of the cut", "Remesurer chaque paire à l'endroit de la coupe"],
  "terms.Below 3 V dc and 1 V ac on every pair": ["Below 3 V dc and 1 V ac on every pair", "Moins de 3 V continu et de 1 V alternatif sur chaque paire"],
  "terms.A second line can run on the same cable": ["A second line can run on the same cable", "Une seconde ligne peut passer dans le même câble"],
  "terms.Tag the disconnected line at the demarcation with date and name": ["Tag the disconnected line at the demarcation with date and name", "Étiqueter la ligne débranchée au point de démarcation, avec date et nom"],
  "terms.A tag that says do not reconnect": ["A tag that says do not reconnect", "Une étiquette qui dit de ne pas rebrancher"],
  "terms.Find the series jack or the panel's own connection: the panel sits before all telephones": ["Find the series jack or the panel's own connection: the panel sits before all telephones", "Trouver la prise série ou le raccordement de la centrale : la centrale est avant tous les téléphones"],
  "terms.You know which two pairs go to and from the panel": ["You know which two pairs go to and from the panel", "Vous savez quelles deux paires vont à la centrale et en reviennent"],
  "terms.Cutting either pair can end monitoring without notice": ["Cutting either pair can end monitoring without notice", "Couper l'une ou l'autre peut mettre fin à la télésurveillance sans avertir"],
  "terms.Have the owner call the monitoring company and put the account on test before any wire moves": ["Have the owner call the monitoring company and put the account on test before any wire moves", "Faire appeler la société de télésurveillance par le propriétaire et mettre le contrat en test avant de bouger un fil"],
  "terms.The company confirms the test period": ["The company confirms the test period", "La société confirme la période de test"],
  "terms.Opening the panel can raise a real alarm": ["Opening the panel can raise a real alarm", "Ouvrir la centrale peut déclencher une vraie alarme"],
  "terms.Ask the alarm firm whether the panel still reports over this pair or by radio or network": ["Ask the alarm firm whether the panel still reports over this pair or by radio or network", "Demander à la société d'alarme si la centrale transmet encore par cette paire, ou par radio ou réseau"],
  "terms.A written answer and a test signal received by the other path": ["A written answer and a test signal received by the other path", "Une réponse écrite et un signal d'essai reçu par l'autre voie"],
  "terms.Fire and lift lines are for their own licensed firm": ["Fire and lift lines are for their own licensed firm", "Les lignes d'incendie et d'ascenseur sont l'affaire de leur société agréée"],
  "terms.Press the pendant and reach the call centre over its new line with the old pair unplugged": ["Press the pendant and reach the call centre over its new line with the old pair unplugged", "Appuyer sur le médaillon et joindre le centre d'appel par sa nouvelle ligne, l'ancienne paire débranchée"],
  "terms.The call centre answers and says the test is logged": ["The call centre answers and says the test is logged", "Le centre d'appel répond et dit que l'essai est enregistré"],
  "terms.A person's life may hang on this pair: leave nobody without it overnight": ["A person's life may hang on this pair: leave nobody without it overnight", "Une vie peut dépendre de cette paire : ne laisser personne sans elle pour la nuit"],
  "terms.Call from the street door and open it with the old pair unplugged": ["Call from the street door and open it with the old pair unplugged", "Appeler de la porte de la rue et l'ouvrir, l'ancienne paire débranchée"],
  "terms.Speech and lock work over the new path": ["Speech and lock work over the new path", "La parole et la gâche passent par la nouvelle voie"],
  "terms.The lock may need this pair to let people out": ["The lock may need this pair to let people out", "La gâche peut avoir besoin de cette paire pour laisser sortir les gens"],
  "terms.Leave it alone until the lift firm has moved the emergency telephone": ["Leave it alone until the lift firm has moved the emergency telephone", "Ne pas y toucher avant que l'ascensoriste ait déplacé le téléphone de secours"],
  "terms.A written release by the lift firm": ["A written release by the lift firm", "Un accord écrit de l'ascensoriste"],
  "terms.Only the lift firm works on this line": ["Only the lift firm works on this line", "Seul l'ascensoriste travaille sur cette ligne"],
  "terms.Find the splitter and keep the pair from the demarcation to the modem whole": ["Find the splitter and keep the pair from the demarcation to the modem whole", "Trouver le filtre DSL et garder entière la paire du point de démarcation au modem"],
  "terms.Sync stays up while everything else is unplugged": ["Sync stays up while everything else is unplugged", "La synchronisation tient, tout le reste étant débranché"],
  "terms.Cutting behind the splitter is safe; before it the house goes offline": ["Cutting behind the splitter is safe; before it the house goes offline", "Couper après le filtre est sans risque ; avant lui, la maison perd l'accès"],
  "terms.Send and receive one page over the new line": ["Send and receive one page over the new line", "Envoyer et recevoir une page par la nouvelle ligne"],
  "terms.A page each way": ["A page each way", "Une page dans chaque sens"],
  "terms.Ring the number and talk, over the new line": ["Ring the number and talk, over the new line", "Appeler le numéro et parler, par la nouvelle ligne"],
  "terms.It rings and both hear each other": ["It rings and both hear each other", "Ça sonne et chacun entend l'autre"],
  "terms.Power cuts: a line through a modem is dead without a battery; say so": ["Power cuts: a line through a modem is dead without a battery; say so", "Coupures de courant : une ligne qui passe par un modem est morte sans batterie ; le dire"],
  "terms.See every channel that is used over the new path with the old coax unplugged": ["See every channel that is used over the new path with the old coax unplugged", "Voir chaque chaîne employée par la nouvelle voie, l'ancien coaxial débranché"],
  "terms.A picture on every set": ["A picture on every set", "Une image sur chaque téléviseur"],
  "terms.An amplifier may be fed through the coax: find its supply first": ["An amplifier may be fed through the coax: find its supply first", "Un amplificateur peut être alimenté par le coaxial : trouver d'abord son alimentation"],
  "terms.See the picture of every receiver over the new path with the old coax unplugged": ["See the picture of every receiver over the new path with the old coax unplugged", "Voir l'image de chaque récepteur par la nouvelle voie, l'ancien coaxial débranché"],
  "terms.A picture on every receiver": ["A picture on every receiver", "Une image sur chaque récepteur"],
  "terms.The receiver feeds 13 to 18 V up the coax: unplug it before the coax is touched": ["The receiver feeds 13 to 18 V up the coax: unplug it before the coax is touched", "Le récepteur envoie de 13 à 18 V dans le coaxial : le débrancher avant de toucher au coaxial"],
  "terms.Find the splitter and keep the coax from the street to the modem whole": ["Find the splitter and keep the coax from the street to the modem whole", "Trouver le répartiteur et garder entier le coaxial de la rue au modem"],
  "terms.The modem stays online while everything else is unplugged": ["The modem stays online while everything else is unplugged", "Le modem reste en ligne, tout le reste étant débranché"],
  "terms.Ask the other household to try its telephone and network with this pair unplugged": ["Ask the other household to try its telephone and network with this pair unplugged", "Demander à l'autre foyer d'essayer son téléphone et son réseau, cette paire débranchée"],
  "terms.They say in writing that all of it works": ["They say in writing that all of it works", "Ils disent par écrit que tout fonctionne"],
  "terms.What is theirs is not the customer's to give away": ["What is theirs is not the customer's to give away", "Ce qui est à eux n'est pas au client à céder"],
  "terms.Have whoever depends on it try it with this pair unplugged": ["Have whoever depends on it try it with this pair unplugged", "Faire essayer par la personne qui en dépend, cette paire débranchée"],
  "terms.It still works": ["It still works", "Cela fonctionne encore"],
  "terms.Measure every pair at the meeting point again just before the first plug goes in": ["Measure every pair at the meeting point again just before the first plug goes in", "Remesurer chaque paire au point de rassemblement juste avant de placer la première fiche"],
  "terms.No voltage on any pair": ["No voltage on any pair", "Aucune tension sur aucune paire"],
  "terms.A strap across a live pair takes its telephone and any alarm off the line. Ringing is about 90 V ac. Unplug no line unless the plan offers it and the occupant agrees": ["A strap across a live pair takes its telephone and any alarm off the line. Ringing is about 90 V ac. Unplug no line unless the plan offers it and the occupant agrees", "Un pont sur une paire active coupe son téléphone et toute alarme de la ligne. La sonnerie est d'environ 90 V alternatif. Ne débrancher aucune ligne, sauf si le plan le propose et si l'occupant est d'accord"],
  "terms.Leave pairs of an alarm, pendant, lift or entry phone out until they are signed off": ["Leave pairs of an alarm, pendant, lift or entry phone out until they are signed off", "Laisser de côté les paires d'une alarme, d'un médaillon, d'un ascenseur ou d'un interphone jusqu'à leur accord signé"],
  "terms.They are tagged": ["They are tagged", "Elles sont étiquetées"],
  "terms.A strap or tone on them can raise an alarm or stop one": ["A strap or tone on them can raise an alarm or stop one", "Un pont ou une tonalité sur elles peut déclencher une alarme ou en arrêter une"],
  "terms.Unplug modems, telephones and network equipment from every outlet": ["Unplug modems, telephones and network equipment from every outlet", "Débrancher modems, téléphones et matériel réseau de chaque prise"],
  "terms.Nothing but tracing plugs on the cables": ["Nothing but tracing plugs on the cables", "Rien que des fiches de repérage sur les câbles"],
  "terms.Equipment looks like a resistor and can be harmed by the meter": ["Equipment looks like a resistor and can be harmed by the meter", "Un appareil ressemble à une résistance et le multimètre peut l'endommager"],
  "terms.Measure dc and ac volts at each plate before its plug goes in": ["Measure dc and ac volts at each plate before its plug goes in", "Mesurer les tensions continue et alternative à chaque prise avant d'y placer la fiche"],
  "terms.A line that comes in elsewhere never passes the meeting point": ["A line that comes in elsewhere never passes the meeting point", "Une ligne qui entre ailleurs ne passe jamais au point de rassemblement"],
  "terms.Ask who uses a telephone, fax, alarm, pendant, entry phone, lift or DSL on any old wire, and whether another household's line runs here": ["Ask who uses a telephone, fax, alarm, pendant, entry phone, lift or DSL on any old wire, and whether another household's line runs here", "Demander qui emploie un téléphone, un fax, une alarme, un médaillon de téléassistance, un interphone, un ascenseur ou le DSL sur un vieux fil, et si la ligne d'un autre foyer passe ici"],
  "terms.Enter each as an obligation on its cable": ["Enter each as an obligation on its cable", "Inscrire chacun comme obligation sur son câble"],
  "terms.Measure dc and ac volts on every pair that arrives here and write down the highest": ["Measure dc and ac volts on every pair that arrives here and write down the highest", "Mesurer les tensions continue et alternative sur chaque paire qui arrive ici et noter la plus haute"],
  "terms.Below 3 V dc and 1 V ac": ["Below 3 V dc and 1 V ac", "Moins de 3 V continu et de 1 V alternatif"],
  "terms.About 50 V dc is an idle telephone line; ringing is about 90 V ac and can come at any moment; 8 to 24 V ac is a door bell": ["About 50 V dc is an idle telephone line; ringing is about 90 V ac and can come at any moment; 8 to 24 V ac is a door bell", "Environ 50 V continu, c'est une ligne de téléphone au repos ; la sonnerie est d'environ 90 V alternatif et peut venir à tout moment ; de 8 à 24 V alternatif, c'est une sonnette"],
  "terms.Ask whether DSL is in use and see on its own modem or one you bring whether it synchronises on any pair": ["Ask whether DSL is in use and see on its own modem or one you bring whether it synchronises on any pair", "Demander si le DSL est employé et voir, sur son modem ou sur un que vous apportez, s'il se synchronise sur une paire"],
  "terms.No modem synchronises": ["No modem synchronises", "Aucun modem ne se synchronise"],
  "terms.A line with DSL alone has no voltage: a voltmeter clears nothing": ["A line with DSL alone has no voltage: a voltmeter clears nothing", "Une ligne qui ne porte que le DSL n'a pas de tension : un voltmètre n'exclut rien"],
  "terms.Unplug the line at the demarcation point, on the customer's side only, then measure every pair again": ["Unplug the line at the demarcation point, on the customer's side only, then measure every pair again", "Débrancher la ligne au point de démarcation, du côté du client seulement, puis remesurer chaque paire"],
  "terms.0 V on the house wire and dial tone or sync still at the demarcation": ["0 V on the house wire and dial tone or sync still at the demarcation", "0 V sur les fils de la maison et toujours la tonalité ou la synchronisation au point de démarcation"],
  "terms.Take out every plug, connect the line again at the demarcation point and test it": ["Take out every plug, connect the line again at the demarcation point and test it", "Retirer toutes les fiches, rebrancher la ligne au point de démarcation et l'essayer"],
  "terms.Dial tone in a telephone or a modem that synchronises": ["Dial tone in a telephone or a modem that synchronises", "La tonalité dans un téléphone, ou un modem qui se synchronise"],
  "terms.Nobody leaves before this is tested with the occupant": ["Nobody leaves before this is tested with the occupant", "Personne ne part avant que ce soit essayé avec l'occupant"],
  "terms.concrete": ["concrete", "béton"],
  "terms.brick": ["brick", "brique"],
  "terms.plasterboard": ["plasterboard", "plaque de plâtre"],
  "terms.wood": ["wood", "bois massif"],
  "terms.glass": ["glass", "verre"],
  "terms.chipboard": ["chipboard", "aggloméré"],
  "terms.plywood": ["plywood", "contreplaqué"],
  "terms.ceiling board": ["ceiling board", "dalle de plafond"],
  "terms.marble": ["marble", "marbre"],
  "terms.metal": ["metal", "métal"],
  "terms.plaster": ["plaster", "plâtre"],
  "terms.aerated block": ["aerated block", "béton cellulaire"],
  "terms.wet brick": ["wet brick", "brique humide"],
  "terms.insulation": ["insulation", "isolant"],
  "terms.foil": ["foil", "feuille d'aluminium"],
  "terms.low-e coating": ["low-e coating", "couche peu émissive"],
  "terms.mirror silver": ["mirror silver", "argenture"],
  "terms.metal lath": ["metal lath", "lattis métallique"],
  "terms.joists": ["joists", "solives"],
  "terms.insulated joists": ["insulated joists", "solives isolées"],
  "terms.studs": ["studs", "montants en bois"],
  "terms.insulated studs": ["insulated studs", "montants en bois isolés"],
  "terms.metal studs": ["metal studs", "montants métalliques"],
  "terms.hollow block": ["hollow block", "bloc creux"],
  "terms.hollow slab": ["hollow slab", "dalle alvéolée"],
  "terms.Brick, half a brick thick, plastered both sides": ["Brick, half a brick thick, plastered both sides", "Brique, une demi-brique d'épaisseur, enduite des deux côtés"],
  "terms.Solid brick, one brick thick (9 in), plastered inside": ["Solid brick, one brick thick (9 in), plastered inside", "Brique pleine, une brique d'épaisseur (9 in), enduite dedans"],
  "terms.Solid brick, one brick thick, plastered both sides": ["Solid brick, one brick thick, plastered both sides", "Brique pleine, une brique d'épaisseur, enduite des deux côtés"],
  "terms.Solid brick, one and a half bricks thick, plastered inside": ["Solid brick, one and a half bricks thick, plastered inside", "Brique pleine, une brique et demie d'épaisseur, enduite dedans"],
  "terms.Solid brick, damp, plastered inside": ["Solid brick, damp, plastered inside", "Brique pleine, humide, enduite dedans"],
  "terms.Brick, cavity, brick, plastered inside": ["Brick, cavity, brick, plastered inside", "Brique, lame d'air, brique, enduite dedans"],
  "terms.Brick, insulated cavity, aerated block, plasterboard": ["Brick, insulated cavity, aerated block, plasterboard", "Brique, lame isolée, béton cellulaire, plaque de plâtre"],
  "terms.Brick, foil-faced insulation, aerated block, plasterboard": ["Brick, foil-faced insulation, aerated block, plasterboard", "Brique, isolant à face aluminium, béton cellulaire, plaque de plâtre"],
  "terms.Brick veneer on a wood frame, drywall inside": ["Brick veneer on a wood frame, drywall inside", "Parement de brique sur ossature bois, plaque de plâtre dedans"],
  "terms.Wood siding on a wood frame, drywall inside": ["Wood siding on a wood frame, drywall inside", "Bardage bois sur ossature bois, plaque de plâtre dedans"],
  "terms.Wood siding on board sheathing, plaster on wood lath": ["Wood siding on board sheathing, plaster on wood lath", "Bardage bois sur voliges, plâtre sur lattis bois"],
  "terms.Stucco on wire lath, wood frame, drywall inside": ["Stucco on wire lath, wood frame, drywall inside", "Enduit sur treillis métallique, ossature bois, plaque de plâtre dedans"],
  "terms.Dense concrete block 100 mm, plastered both sides": ["Dense concrete block 100 mm, plastered both sides", "Bloc de béton plein 100 mm, enduit des deux côtés"],
  "terms.Aerated block 100 mm, plastered both sides": ["Aerated block 100 mm, plastered both sides", "Béton cellulaire 100 mm, enduit des deux côtés"],
  "terms.Hollow concrete block 190 mm": ["Hollow concrete block 190 mm", "Parpaing creux 190 mm"],
  "terms.Concrete wall 150 mm": ["Concrete wall 150 mm", "Mur en béton 150 mm"],
  "terms.Concrete or basement wall 250 mm": ["Concrete or basement wall 250 mm", "Mur en béton ou de sous-sol 250 mm"],
  "terms.Stone, 450 mm, plastered inside": ["Stone, 450 mm, plastered inside", "Pierre, 450 mm, enduite dedans"],
  "terms.Studs and plasterboard (drywall)": ["Studs and plasterboard (drywall)", "Montants et plaques de plâtre"],
  "terms.Studs, mineral wool and plasterboard (drywall)": ["Studs, mineral wool and plasterboard (drywall)", "Montants, laine minérale et plaques de plâtre"],
  "terms.Studs with two boards each side": ["Studs with two boards each side", "Montants, deux plaques de chaque côté"],
  "terms.Metal studs and plasterboard (drywall)": ["Metal studs and plasterboard (drywall)", "Montants métalliques et plaques de plâtre"],
  "terms.Studs with foil-backed plasterboard on one side": ["Studs with foil-backed plasterboard on one side", "Montants, plaque à dos aluminium d'un côté"],
  "terms.Plaster on wood lath, both sides": ["Plaster on wood lath, both sides", "Plâtre sur lattis bois, des deux côtés"],
  "terms.Plaster on metal lath, both sides": ["Plaster on metal lath, both sides", "Plâtre sur lattis métallique, des deux côtés"],
  "terms.Gypsum block 70 mm": ["Gypsum block 70 mm", "Carreau de plâtre 70 mm"],
  "terms.Chimney breast: brick, flue, brick": ["Chimney breast: brick, flue, brick", "Manteau de cheminée : brique, conduit de fumée, brique"],
  "terms.Masonry of unknown make: brick, block, concrete, with its pipes and door frames": ["Masonry of unknown make: brick, block, concrete, with its pipes and door frames", "Maçonnerie de nature inconnue : brique, bloc, béton, avec ses tuyaux et ses huisseries"],
  "terms.Floorboards on joists, plasterboard ceiling": ["Floorboards on joists, plasterboard ceiling", "Parquet sur solives, plafond en plaque de plâtre"],
  "terms.Floorboards on joists, lath and plaster ceiling": ["Floorboards on joists, lath and plaster ceiling", "Parquet sur solives, plafond en plâtre sur lattis"],
  "terms.Chipboard on joists, plasterboard ceiling": ["Chipboard on joists, plasterboard ceiling", "Aggloméré sur solives, plafond en plaque de plâtre"],
  "terms.Plywood on joists, drywall ceiling": ["Plywood on joists, drywall ceiling", "Contreplaqué sur solives, plafond en plaque de plâtre"],
  "terms.Concrete slab 150 mm": ["Concrete slab 150 mm", "Dalle de béton 150 mm"],
  "terms.Concrete slab 200 mm with screed 50 mm": ["Concrete slab 200 mm with screed 50 mm", "Dalle de béton 200 mm avec chape de 50 mm"],
  "terms.Hollow-core or beam-and-block floor": ["Hollow-core or beam-and-block floor", "Dalle alvéolée ou poutrelles et hourdis"],
  "terms.Hollow-core door": ["Hollow-core door", "Porte alvéolaire"],
  "terms.Solid wood door": ["Solid wood door", "Porte en bois massif"],
  "terms.Panelled wood door": ["Panelled wood door", "Porte en bois à panneaux"],
  "terms.Glazed door, single glass": ["Glazed door, single glass", "Porte vitrée, simple vitrage"],
  "terms.Patio door, double glass with low-e coating": ["Patio door, double glass with low-e coating", "Porte-fenêtre, double vitrage peu émissif"],
  "terms.Steel-faced door": ["Steel-faced door", "Porte à parements d'acier"],
  "terms.Steel garage door": ["Steel garage door", "Porte de garage en acier"],
  "terms.Window, single glass": ["Window, single glass", "Fenêtre, simple vitrage"],
  "terms.Window, double glass": ["Window, double glass", "Fenêtre, double vitrage"],
  "terms.Window, double glass with low-e coating": ["Window, double glass with low-e coating", "Fenêtre, double vitrage peu émissif"],
  "terms.Window, low-e glass in a wood frame": ["Window, low-e glass in a wood frame", "Fenêtre, verre peu émissif dans un cadre en bois"],
  "terms.Large metal thing: refrigerator, boiler, duct, steel bath": ["Large metal thing: refrigerator, boiler, duct, steel bath", "Grand objet métallique : réfrigérateur, chaudière, gaine, baignoire en acier"],
  "terms.Large mirror": ["Large mirror", "Grand miroir"],
  "terms.Full bookcase or packed wardrobe": ["Full bookcase or packed wardrobe", "Bibliothèque pleine ou armoire remplie"],
  "terms.Joists or rafters with air between": ["Joists or rafters with air between", "Solives ou chevrons avec de l'air entre eux"],
  "terms.Joists or rafters with mineral wool between": ["Joists or rafters with mineral wool between", "Solives ou chevrons avec de la laine minérale entre eux"],
  "terms.Wood studs with air between": ["Wood studs with air between", "Montants en bois avec de l'air entre eux"],
  "terms.Wood studs with mineral wool between": ["Wood studs with mineral wool between", "Montants en bois avec de la laine minérale entre eux"],
  "terms.Metal studs with air between": ["Metal studs with air between", "Montants métalliques avec de l'air entre eux"],
  "terms.Hollow concrete block": ["Hollow concrete block", "Bloc de béton creux"],
  "terms.Hollow-core slab, or beams and blocks": ["Hollow-core slab, or beams and blocks", "Dalle alvéolée, ou poutrelles et hourdis"],
  "terms.not asked": ["not asked", "non demandé"],
  "terms.pinned": ["pinned", "imposé"],
  "terms.free": ["free", "libre"],
  "terms.near": ["near", "proche"],
  "terms.far": ["far", "éloigné"],
  "terms.The rate its category stands for is promised for the cable as tested": ["The rate its category stands for is promised for the cable as tested", "Le débit de sa catégorie est promis pour le câble tel que testé"],
  "terms.Certified: the report belongs to this record": ["Certified: the report belongs to this record", "Certifié : le rapport fait partie de ce dossier"],
  "terms.The rate that was measured is promised on the day, not for ever": ["The rate that was measured is promised on the day, not for ever", "Le débit mesuré est promis le jour même, pas pour toujours"],
  "terms.Measured, not certified: test again after any change": ["Measured, not certified: test again after any change", "Mesuré, non certifié : tester à nouveau après tout changement"],
  "terms.Expected; nothing is promised until a link and a full-load test have passed": ["Expected; nothing is promised until a link and a full-load test have passed", "Attendu ; rien n'est promis avant un lien établi et un essai à pleine charge réussi"],
  "terms.Inferred: counts as measured once its test row is filled in, otherwise as unknown": ["Inferred: counts as measured once its test row is filled in, otherwise as unknown", "Déduit : vaut mesuré une fois sa ligne d'essais remplie, sinon inconnu"],
  "terms.Nothing is promised": ["Nothing is promised", "Rien n'est promis"],
  "terms.Unknown: stays listed, never cut off and never counted on": ["Unknown: stays listed, never cut off and never counted on", "Inconnu : reste dans la liste, jamais coupé et jamais compté dessus"],
  "terms.cable end": ["cable end", "bout de câble"],
  "terms.plate": ["plate", "prise"],
  "terms.ceiling": ["ceiling", "plafond"],
  "terms.m": ["m", "m"],
  "terms.look": ["look", "à voir"],
  "terms.mind": ["mind", "attention"],
  "terms.Jack, category 6, tool-free": ["Jack, category 6, tool-free", "Noyau RJ45, catégorie 6, sans outil"],
  "terms.Wall plate with frame": ["Wall plate with frame", "Prise murale avec cadre"],
  "terms.Low-voltage bracket": ["Low-voltage bracket", "Support d'encastrement pour courants faibles"],
  "terms.Cable, category 6, four pairs, solid copper": ["Cable, category 6, four pairs, solid copper", "Câble, catégorie 6, quatre paires, cuivre massif"],
  "terms.Patch cord 0.25 m": ["Patch cord 0.25 m", "Cordon de brassage 0,25 m"],
  "terms.Patch cord 0.5 m": ["Patch cord 0.5 m", "Cordon de brassage 0,5 m"],
  "terms.Patch cord 1 m": ["Patch cord 1 m", "Cordon de brassage 1 m"],
  "terms.Patch cord 2 m": ["Patch cord 2 m", "Cordon de brassage 2 m"],
  "terms.Patch cord 3 m": ["Patch cord 3 m", "Cordon de brassage 3 m"],
  "terms.Patch cord 5 m": ["Patch cord 5 m", "Cordon de brassage 5 m"],
  "terms.Plug for solid or stranded wire": ["Plug for solid or stranded wire", "Fiche pour fil massif ou multibrin"],
  "terms.Label, 6 mm tape wrap": ["Label, 6 mm tape wrap", "Étiquette, ruban enroulé de 6 mm"],
  "terms.Hook-and-loop strap": ["Hook-and-loop strap", "Attache auto-agrippante"],
  "terms.Fire-stop sealant, cartridge": ["Fire-stop sealant, cartridge", "Mastic coupe-feu, cartouche"],
  "terms.Cable clip": ["Cable clip", "Attache de câble"],
  "terms.Screw and anchor": ["Screw and anchor", "Vis et cheville"],
  "terms.Blank plate for an outlet taken out of use": ["Blank plate for an outlet taken out of use", "Plaque pleine pour une prise mise hors service"],
  "terms.Joint box with gel connectors": ["Joint box with gel connectors", "Boîte de jonction avec connecteurs à gel"],
  "terms.Trunking, small, with corners": ["Trunking, small, with corners", "Goulotte, petite, avec angles"],
  "terms.Fibre cable, two fibres, for outdoors, ends made": ["Fibre cable, two fibres, for outdoors, ends made", "Câble à fibre, deux fibres, pour l'extérieur, bouts préparés"],
  "terms.Duct for a buried or clipped outdoor cable": ["Duct for a buried or clipped outdoor cable", "Fourreau pour un câble extérieur enterré ou fixé"],
  "terms.Pair of media converters, the far one with power for an access point": ["Pair of media converters, the far one with power for an access point", "Paire de convertisseurs de média, celui du bout éloigné alimentant un point d'accès"],
  "terms.Small switch, 5 ports, four with power, for a box beside a mains socket": ["Small switch, 5 ports, four with power, for a box beside a mains socket", "Petit commutateur, 5 ports dont quatre alimentés, pour une boîte près d'une prise de courant"],
  "terms.Tie-on tag": ["Tie-on tag", "Étiquette à nouer"],
  "terms.Long flat cord along a skirting, up to 10 m": ["Long flat cord along a skirting, up to 10 m", "Long cordon plat le long d'une plinthe, jusqu'à 10 m"],
  "terms.Power injector for one access point, beside a mains socket": ["Power injector for one access point, beside a mains socket", "Injecteur d'alimentation pour un point d'accès, près d'une prise de courant"],
  "terms.Plug-in supply for one access point": ["Plug-in supply for one access point", "Alimentation enfichable pour un point d'accès"],
  "terms.Adapter between coax and Ethernet, one": ["Adapter between coax and Ethernet, one", "Adaptateur entre coaxial et Ethernet, un"],
  "terms.Filter at the point of entry of a coax": ["Filter at the point of entry of a coax", "Filtre au point d'entrée d'un coaxial"],
  "terms.Coax splitter that passes 1675 MHz, with caps": ["Coax splitter that passes 1675 MHz, with caps", "Répartiteur coaxial qui passe 1675 MHz, avec bouchons"],
  "terms.Coax lead 1 m with plugs": ["Coax lead 1 m with plugs", "Cordon coaxial 1 m avec fiches"],
  "terms.Cap of 75 ohm for an open coax output": ["Cap of 75 ohm for an open coax output", "Bouchon de 75 ohms pour une sortie coaxiale ouverte"],
  "terms.Filtered face plate for the first telephone socket": ["Filtered face plate for the first telephone socket", "Plastron filtré pour la première prise téléphonique"],
  "terms.Plug-in radio adapter for an old computer, two streams, 2.4 and 5 GHz": ["Plug-in radio adapter for an old computer, two streams, 2.4 and 5 GHz", "Adaptateur radio enfichable pour un ancien ordinateur, deux flux, 2,4 et 5 GHz"],
  "terms.access point HE 2x2": ["access point HE 2x2", "point d'accès HE 2x2"],
  "terms.Access point, two-stream, 2.4 and 5 GHz": ["Access point, two-stream, 2.4 and 5 GHz", "Point d'accès, deux flux, 2,4 et 5 GHz"],
  "terms.access point HE 4x4": ["access point HE 4x4", "point d'accès HE 4x4"],
  "terms.Access point, four-stream, 2.4 and 5 GHz": ["Access point, four-stream, 2.4 and 5 GHz", "Point d'accès, quatre flux, 2,4 et 5 GHz"],
  "terms.access point EHT 2x2 tri-band": ["access point EHT 2x2 tri-band", "point d'accès EHT 2x2 tribande"],
  "terms.Access point, two-stream, 2.4, 5 and 6 GHz": ["Access point, two-stream, 2.4, 5 and 6 GHz", "Point d'accès, deux flux, 2,4, 5 et 6 GHz"],
  "terms.router HE 2x2": ["router HE 2x2", "routeur HE 2x2"],
  "terms.Router with two-stream radios, 2.4 and 5 GHz": ["Router with two-stream radios, 2.4 and 5 GHz", "Routeur à radios de deux flux, 2,4 et 5 GHz"],
  "terms.router wired": ["router wired", "routeur filaire"],
  "terms.Router without radios": ["Router without radios", "Routeur sans radio"],
  "terms.switch 8 PoE 60": ["switch 8 PoE 60", "commutateur 8 PoE 60"],
  "terms.Switch, 8 ports at 1 Gb/s, 60 W PoE": ["Switch, 8 ports at 1 Gb/s, 60 W PoE", "Commutateur, 8 ports à 1 Gb/s, 60 W PoE"],
  "terms.switch 8 PoE 120": ["switch 8 PoE 120", "commutateur 8 PoE 120"],
  "terms.Switch, 8 ports at 1 Gb/s, 120 W PoE": ["Switch, 8 ports at 1 Gb/s, 120 W PoE", "Commutateur, 8 ports à 1 Gb/s, 120 W PoE"],
  "terms.switch 16 PoE 150": ["switch 16 PoE 150", "commutateur 16 PoE 150"],
  "terms.Switch, 16 ports at 1 Gb/s, 150 W PoE": ["Switch, 16 ports at 1 Gb/s, 150 W PoE", "Commutateur, 16 ports à 1 Gb/s, 150 W PoE"],
  "terms.switch 24 PoE 250": ["switch 24 PoE 250", "commutateur 24 PoE 250"],
  "terms.Switch, 24 ports at 1 Gb/s, 250 W PoE": ["Switch, 24 ports at 1 Gb/s, 250 W PoE", "Commutateur, 24 ports à 1 Gb/s, 250 W PoE"],
  "terms.switch 8 PoE 120 2.5G": ["switch 8 PoE 120 2.5G", "commutateur 8 PoE 120 2.5G"],
  "terms.Switch, 8 ports at 2.5 Gb/s, 120 W PoE": ["Switch, 8 ports at 2.5 Gb/s, 120 W PoE", "Commutateur, 8 ports à 2,5 Gb/s, 120 W PoE"],
  "terms.switch 48 PoE 500": ["switch 48 PoE 500", "commutateur 48 PoE 500"],
  "terms.Switch, 48 ports at 1 Gb/s, 500 W PoE": ["Switch, 48 ports at 1 Gb/s, 500 W PoE", "Commutateur, 48 ports à 1 Gb/s, 500 W PoE"],
  "terms.battery 12 V 9 Ah": ["battery 12 V 9 Ah", "onduleur 12 V 9 Ah"],
  "terms.Battery backup, 12 V 9 Ah": ["Battery backup, 12 V 9 Ah", "Onduleur à batterie, 12 V 9 Ah"],
  "terms.battery 24 V 9 Ah": ["battery 24 V 9 Ah", "onduleur 24 V 9 Ah"],
  "terms.Battery backup, 24 V 9 Ah": ["Battery backup, 24 V 9 Ah", "Onduleur à batterie, 24 V 9 Ah"],
  "terms.battery 48 V 9 Ah": ["battery 48 V 9 Ah", "onduleur 48 V 9 Ah"],
  "terms.Battery backup, 48 V 9 Ah": ["Battery backup, 48 V 9 Ah", "Onduleur à batterie, 48 V 9 Ah"],
  "terms.panel 12": ["panel 12", "panneau 12"],
  "terms.Patch panel, 12 ports": ["Patch panel, 12 ports", "Panneau de brassage, 12 ports"],
  "terms.panel 24": ["panel 24", "panneau 24"],
  "terms.Patch panel, 24 ports": ["Patch panel, 24 ports", "Panneau de brassage, 24 ports"],
  "terms.rack 6U": ["rack 6U", "baie 6U"],
  "terms.Wall rack, 6 units": ["Wall rack, 6 units", "Baie murale, 6 unités"],
  "terms.rack 9U": ["rack 9U", "baie 9U"],
  "terms.Wall rack, 9 units": ["Wall rack, 9 units", "Baie murale, 9 unités"],
  "terms.rack 12U": ["rack 12U", "baie 12U"],
  "terms.Wall rack, 12 units": ["Wall rack, 12 units", "Baie murale, 12 unités"],
  "terms.optical terminal": ["optical terminal", "terminaison optique"],
  "terms.Optical network terminal": ["Optical network terminal", "Terminaison de réseau optique"],
  "terms.cable modem": ["cable modem", "modem câble"],
  "terms.Cable modem": ["Cable modem", "Modem câble"],
  "terms.dsl modem": ["dsl modem", "modem DSL"],
  "terms.DSL modem": ["DSL modem", "Modem DSL"],
  "terms.each": ["each", "pièce"],
  "terms.box": ["box", "boîtier"],
  "terms.patch cord": ["patch cord", "cordon de brassage"],
  "terms.Switch": ["Switch", "Commutateur"],
  "terms.Panel": ["Panel", "Panneau"],
  "terms.Router": ["Router", "Routeur"],
  "terms.the DSL line": ["the DSL line", "la ligne DSL"],
  "terms.the cable line": ["the cable line", "la ligne câble"],
  "terms.the fibre line": ["the fibre line", "la ligne fibre"],
  "terms.the wireless line": ["the wireless line", "la ligne sans fil"],
  "terms.the provider's line": ["the provider's line", "la ligne de l'opérateur"],
  "terms.provider's line": ["provider's line", "ligne de l'opérateur"],
  "terms.the air": ["the air", "l'air"],
  "terms.the wireless hop": ["the wireless hop", "le saut sans fil"],
  "terms.a cable in the house": ["a cable in the house", "un câble de la maison"],
  "terms.calls and fast games alike": ["calls and fast games alike", "bon pour les appels comme pour les jeux rapides"],
  "terms.calls well; fast games with a drag": ["calls well; fast games with a drag", "bon pour les appels ; les jeux rapides traînent"],
  "terms.calls break up": ["calls break up", "les appels se hachent"],
  "terms.medium": ["medium", "moyen"],
  "terms.insertion loss": ["insertion loss", "affaiblissement d'insertion"],
  "terms.return loss": ["return loss", "affaiblissement de réflexion"],
  "terms.class C": ["class C", "classe C"],
  "terms.class D": ["class D", "classe D"],
  "terms.class E": ["class E", "classe E"],
  "terms.class EA": ["class EA", "classe EA"],
  "terms.dsl pair": ["dsl pair", "paire DSL"],
  "terms.new fibre": ["new fibre", "fibre neuve"],
  "terms.radio hop": ["radio hop", "saut radio"],
  "terms.spreading": ["spreading", "propagation"],
  "terms.street": ["street", "rue"],
  "terms.meeting point": ["meeting point", "point de rassemblement"],
  "terms.outlet": ["outlet", "prise"],
  "terms.splitter": ["splitter", "répartiteur"],
  "terms.adapter": ["adapter", "adaptateur"],
  "terms.wired outlet": ["wired outlet", "prise réseau"],
  "terms.kept": ["kept", "conservé"],
  "terms.old": ["old", "ancien"],
  "terms.new": ["new", "neuf"],
  "terms.aerated block 100 mm": ["aerated block 100 mm", "béton cellulaire 100 mm"],
  "terms.brick veneer on a wood frame": ["brick veneer on a wood frame", "parement de brique sur ossature bois"],
  "terms.chimney breast": ["chimney breast", "manteau de cheminée"],
  "terms.chipboard on joists": ["chipboard on joists", "aggloméré sur solives"],
  "terms.concrete or basement wall 250 mm": ["concrete or basement wall 250 mm", "mur en béton ou de sous-sol 250 mm"],
  "terms.concrete slab 150 mm": ["concrete slab 150 mm", "dalle de béton 150 mm"],
  "terms.concrete slab 200 mm with screed 50 mm": ["concrete slab 200 mm with screed 50 mm", "dalle de béton 200 mm avec chape de 50 mm"],
  "terms.concrete wall 150 mm": ["concrete wall 150 mm", "mur en béton 150 mm"],
  "terms.dense concrete block 100 mm": ["dense concrete block 100 mm", "bloc de béton plein 100 mm"],
  "terms.floorboards on joists": ["floorboards on joists", "parquet sur solives"],
  "terms.full bookcase or packed wardrobe": ["full bookcase or packed wardrobe", "bibliothèque pleine ou armoire remplie"],
  "terms.glazed door": ["glazed door", "porte vitrée"],
  "terms.gypsum block 70 mm": ["gypsum block 70 mm", "carreau de plâtre 70 mm"],
  "terms.hollow concrete block 190 mm": ["hollow concrete block 190 mm", "parpaing creux 190 mm"],
  "terms.hollow-core door": ["hollow-core door", "porte alvéolaire"],
  "terms.hollow-core or beam-and-block floor": ["hollow-core or beam-and-block floor", "dalle alvéolée ou poutrelles et hourdis"],
  "terms.large metal thing": ["large metal thing", "grand objet métallique"],
  "terms.large mirror": ["large mirror", "grand miroir"],
  "terms.masonry of unknown make": ["masonry of unknown make", "maçonnerie de nature inconnue"],
  "terms.metal studs and plasterboard": ["metal studs and plasterboard", "montants métalliques et plaques de plâtre"],
  "terms.panelled wood door": ["panelled wood door", "porte en bois à panneaux"],
  "terms.patio door": ["patio door", "porte-fenêtre"],
  "terms.plaster on metal lath": ["plaster on metal lath", "plâtre sur lattis métallique"],
  "terms.plaster on wood lath": ["plaster on wood lath", "plâtre sur lattis bois"],
  "terms.plywood on joists": ["plywood on joists", "contreplaqué sur solives"],
  "terms.solid brick": ["solid brick", "brique pleine"],
  "terms.solid wood door": ["solid wood door", "porte en bois massif"],
  "terms.steel garage door": ["steel garage door", "porte de garage en acier"],
  "terms.steel-faced door": ["steel-faced door", "porte à parements d'acier"],
  "terms.stone": ["stone", "pierre"],
  "terms.stucco on wire lath": ["stucco on wire lath", "enduit sur treillis métallique"],
  "terms.studs and plasterboard": ["studs and plasterboard", "montants et plaques de plâtre"],
  "terms.studs with foil-backed plasterboard on one side": ["studs with foil-backed plasterboard on one side", "montants, plaque à dos aluminium d'un côté"],
  "terms.studs with two boards each side": ["studs with two boards each side", "montants, deux plaques de chaque côté"],
  "terms.wood siding on a wood frame": ["wood siding on a wood frame", "bardage bois sur ossature bois"],
  "terms.wood siding on board sheathing": ["wood siding on board sheathing", "bardage bois sur voliges"],
  "terms.level at 2.4 GHz": ["level at 2.4 GHz", "niveau à 2,4 GHz"],
  "terms.level at 5 GHz": ["level at 5 GHz", "niveau à 5 GHz"],
  "terms.level at 6 GHz": ["level at 6 GHz", "niveau à 6 GHz"],
  "terms.2.4 GHz": ["2.4 GHz", "2,4 GHz"],
  "terms.trade judgement": ["trade judgement", "jugement du métier"],
  "terms.Trade judgement": ["Trade judgement", "Jugement du métier"],
  "terms.trade practice": ["trade practice", "usage du métier"],
  "terms.telephone practice": ["telephone practice", "usage du téléphone"],
  "terms.printed": ["printed", "imprimé"],
  "terms.computed": ["computed", "calculé"],
  "terms.plot": ["plot", "lu sur un tracé"],
  "terms.excerpt": ["excerpt", "extrait"],
  "terms.memory": ["memory", "de mémoire"],
  "terms.common practice": ["common practice", "usage"],
  "terms.invented": ["invented", "inventé"],
  "terms.alarm jack pages": ["alarm jack pages", "pages sur les prises d'alarme"],
  "terms.installation advice (document not named)": ["installation advice (document not named)", "conseil d'installation (document non nommé)"],
  "terms.installation advice on a public page": ["installation advice on a public page", "conseil d'installation sur une page publique"],
  "terms.safety statement of a maker of telephone sets": ["safety statement of a maker of telephone sets", "consigne de sécurité d'un fabricant de téléphones"],
  "terms.a trade magazine's installer tip": ["a trade magazine's installer tip", "conseil d'installateur d'une revue du métier"],
  "terms.a supplier's telephone wiring page": ["a supplier's telephone wiring page", "page d'un fournisseur sur le câblage téléphonique"],
  "terms.a telephone colour page": ["a telephone colour page", "page sur les couleurs du téléphone"],
  "terms.an Australian connector page": ["an Australian connector page", "page australienne sur les connecteurs"],
  "terms.dataIP technical document 18": ["dataIP technical document 18", "document technique 18 de dataIP"],
  "terms.encyclopaedia article on the six-position telephone jack": ["encyclopaedia article on the six-position telephone jack", "article d'encyclopédie sur la prise téléphonique à six positions"],
  "terms.TIA-568 as printed in a data communications cabling FAQ": ["TIA-568 as printed in a data communications cabling FAQ", "TIA-568 telle qu'imprimée dans une FAQ de câblage de données"],
  "terms.USOC as printed in a data communications cabling FAQ": ["USOC as printed in a data communications cabling FAQ", "USOC tel qu'imprimé dans une FAQ de câblage de données"],
  "terms.secondary pages on G.hn": ["secondary pages on G.hn", "pages secondaires sur G.hn"],
  "terms.secondary pages on MoCA 2.5": ["secondary pages on MoCA 2.5", "pages secondaires sur MoCA 2.5"],
  "terms.check the edition in force": ["check the edition in force", "vérifier l'édition en vigueur"],
  "terms.2000 (superseded: check the edition in force)": ["2000 (superseded: check the edition in force)", "2000 (remplacée : vérifier l'édition en vigueur)"],
  "terms.article 800; check the edition in force": ["article 800; check the edition in force", "article 800 ; vérifier l'édition en vigueur"],
  "terms.section 60; check the edition in force": ["section 60; check the edition in force", "section 60 ; vérifier l'édition en vigueur"],
  "terms.1991; copy on torrak.com": ["1991; copy on torrak.com", "1991 ; copie sur torrak.com"],
  "terms.copy on torrak.com": ["copy on torrak.com", "copie sur torrak.com"],
  "terms.copy on netipedia.com": ["copy on netipedia.com", "copie sur netipedia.com"],
  "terms.clause 59": ["clause 59", "article 59"],
  "terms.line passes through the panel and back to the house": ["line passes through the panel and back to the house", "la ligne passe par la centrale et revient à la maison"],
  "terms.idle -48 V dc; ringing 20 Hz about 90 V ac": ["idle -48 V dc; ringing 20 Hz about 90 V ac", "au repos -48 V continu ; sonnerie 20 Hz, environ 90 V alternatif"],
  "terms.keep the DSL splitter's feed intact": ["keep the DSL splitter's feed intact", "garder intacte l'arrivée du filtre DSL"],
  "terms.live lines": ["live lines", "lignes actives"],
  "terms.avoid a telephone with a cord in an electrical storm: a remote risk of electric shock from lightning": ["avoid a telephone with a cord in an electrical storm: a remote risk of electric shock from lightning", "éviter un téléphone à fil pendant un orage : faible risque de choc électrique par la foudre"],
  "terms.DSL without telephony has no 48 V": ["DSL without telephony has no 48 V", "un DSL sans téléphonie n'a pas de 48 V"],
  "terms.a house of several households": ["a house of several households", "une maison de plusieurs foyers"],
  "terms.disconnect at the demarcation and tag": ["disconnect at the demarcation and tag", "débrancher au point de démarcation et étiqueter"],
  "terms.doorbell transformers 8 to 24 V": ["doorbell transformers 8 to 24 V", "transformateurs de sonnette de 8 à 24 V"],
  "terms.lift emergency telephone": ["lift emergency telephone", "téléphone de secours d'ascenseur"],
  "terms.modem on a coax": ["modem on a coax", "modem sur un coaxial"],
  "terms.satellite on a coax": ["satellite on a coax", "satellite sur un coaxial"],
  "terms.television on a coax": ["television on a coax", "télévision sur un coaxial"],
  "terms.obligations register": ["obligations register", "registre des obligations"],
  "terms.old quad was used for bells and lamps": ["old quad was used for bells and lamps", "l'ancienne quarte servait aux sonnettes et aux lampes"],
  "terms.pendant tested on its new line": ["pendant tested on its new line", "médaillon essayé sur sa nouvelle ligne"],
  "terms.reconnect after tracing": ["reconnect after tracing", "rebrancher après le repérage"],
  "terms.stages of the trade: photo first": ["stages of the trade: photo first", "étapes du métier : la photo d'abord"],
  "terms.tracing with straps": ["tracing with straps", "repérage par ponts"],
  "terms.two lines on one quad": ["two lines on one quad", "deux lignes sur une quarte"],
  "terms.50 mm or a barrier read in excerpt": ["50 mm or a barrier read in excerpt", "50 mm ou une barrière, lu en extrait"],
  "terms.50 mm; from memory": ["50 mm; from memory", "50 mm ; de mémoire"],
  "terms.4 mm2 without mechanical protection; from memory": ["4 mm2 without mechanical protection; from memory", "4 mm2 sans protection mécanique ; de mémoire"],
  "terms.4 mm2; from memory": ["4 mm2; from memory", "4 mm2 ; de mémoire"],
  "terms.200 mm read in excerpt": ["200 mm read in excerpt", "200 mm lu en extrait"],
  "terms.14 AWG copper read on a public page": ["14 AWG copper read on a public page", "14 AWG de cuivre lu sur une page publique"],
  "terms.50 mm from power conductors; NFPA 70 article 800 itself was not read; check the edition in force": ["50 mm from power conductors; NFPA 70 article 800 itself was not read; check the edition in force", "50 mm des conducteurs de force ; l'article 800 de la NFPA 70 lui-même n'a pas été lu ; vérifier l'édition en vigueur"],
  "terms.125 mm (5 in)": ["125 mm (5 in)", "125 mm (5 in)"],
  "terms.never in a box with power": ["never in a box with power", "jamais dans une boîte avec du courant fort"],
  "terms.T568A: pins with tip and ring": ["T568A: pins with tip and ring", "T568A : broches avec tip et ring"],
  "terms.T568B: pins with tip and ring": ["T568B: pins with tip and ring", "T568B : broches avec tip et ring"],
  "terms.8 pins and 6 pins with tip and ring": ["8 pins and 6 pins with tip and ring", "8 et 6 broches avec tip et ring"],
  "terms.brown to pins 1-2 and blue to pins 3-6 of the second jack": ["brown to pins 1-2 and blue to pins 3-6 of the second jack", "marron sur les broches 1-2 et bleu sur les broches 3-6 de la seconde prise"],
  "terms.pair 2 to pins 1-2 and pair 1 to pins 3-6: the two pairs that 100BASE-TX uses": ["pair 2 to pins 1-2 and pair 1 to pins 3-6: the two pairs that 100BASE-TX uses", "paire 2 sur les broches 1-2 et paire 1 sur les broches 3-6 : les deux paires de 100BASE-TX"],
  "terms.strip about 1 1/2 in, order, cut straight": ["strip about 1 1/2 in, order, cut straight", "dénuder environ 1 1/2 in, ranger, couper droit"],
  "terms.untwist at most 13 mm": ["untwist at most 13 mm", "détorsader 13 mm au plus"],
  "terms.untwist at most 13 mm; a training page takes off 2 in of jacket": ["untwist at most 13 mm; a training page takes off 2 in of jacket", "détorsader 13 mm au plus ; une page de formation ôte 2 in de gaine"],
  "terms.old telephone blocks": ["old telephone blocks", "anciens borniers téléphoniques"],
  "terms.conn 2 blue with white bands: 0 V at the B leg": ["conn 2 blue with white bands: 0 V at the B leg", "borne 2 bleu à bandes blanches : 0 V sur le fil B"],
  "terms.conn 3 orange with white bands": ["conn 3 orange with white bands", "borne 3 orange à bandes blanches"],
  "terms.conn 4 white with orange bands": ["conn 4 white with orange bands", "borne 4 blanc à bandes orange"],
  "terms.conn 5 white with blue bands: -48 V at the A leg": ["conn 5 white with blue bands: -48 V at the A leg", "borne 5 blanc à bandes bleues : -48 V sur le fil A"],
  "terms.orange and white are the active pair": ["orange and white are the active pair", "orange et blanc sont la paire active"],
  "terms.second line on solid black and solid green": ["second line on solid black and solid green", "seconde ligne sur noir uni et vert uni"],
  "terms.TIP (L+) white (2)": ["TIP (L+) white (2)", "TIP (L+) blanc (2)"],
  "terms.blue (6)": ["blue (6)", "bleu (6)"],
  "terms.standards for color coding: green and black are tip": ["standards for color coding: green and black are tip", "normes de couleurs : vert et noir sont tip"],
  "terms.standards for color coding: red and yellow are ring": ["standards for color coding: red and yellow are ring", "normes de couleurs : rouge et jaune sont ring"],
  "terms.terminal 1 white/green": ["terminal 1 white/green", "borne 1 blanc/vert"],
  "terms.terminal 2 white/blue is line A": ["terminal 2 white/blue is line A", "borne 2 blanc/bleu : ligne A"],
  "terms.terminal 3 white/orange": ["terminal 3 white/orange", "borne 3 blanc/orange"],
  "terms.terminal 4 orange/white is the bell shunt": ["terminal 4 orange/white is the bell shunt", "borne 4 orange/blanc : shunt de sonnerie"],
  "terms.terminal 5 blue/white is line B": ["terminal 5 blue/white is line B", "borne 5 bleu/blanc : ligne B"],
  "terms.terminal 6 green/white": ["terminal 6 green/white", "borne 6 vert/blanc"],
  "terms.table of pins: old colours; white or slate for the tip of pair 3": ["table of pins: old colours; white or slate for the tip of pair 3", "table des broches : anciennes couleurs ; blanc ou gris pour le tip de la paire 3"],
  "terms.modern order blue orange green brown": ["modern order blue orange green brown", "ordre moderne bleu orange vert marron"],
  "terms.modern order: white mate is tip": ["modern order: white mate is tip", "ordre moderne : le fil blanc est tip"],
  "terms.re color code for wire": ["re color code for wire", "au sujet du code de couleurs des fils"],
  "terms.re color code for wire: black is ring": ["re color code for wire: black is ring", "au sujet du code de couleurs des fils : noir est ring"],
  "terms.re color code for wire: yellow is tip of the second pair": ["re color code for wire: yellow is tip of the second pair", "au sujet du code de couleurs des fils : jaune est tip de la seconde paire"],
  "terms.Australian two-pair cable": ["Australian two-pair cable", "câble australien à deux paires"],
  "terms.10 km class optics; from memory": ["10 km class optics; from memory", "optiques de classe 10 km ; de mémoire"],
  "terms.rate over coax; from memory": ["rate over coax; from memory", "débit sur coaxial ; de mémoire"],
  "terms.rate over power line; from memory": ["rate over power line; from memory", "débit sur courant porteur ; de mémoire"],
  "terms.rate over telephone pair; from memory": ["rate over telephone pair; from memory", "débit sur paire téléphonique ; de mémoire"],
  "terms.2.5 Gb/s MAC rate and under 2.5 ms average one way": ["2.5 Gb/s MAC rate and under 2.5 ms average one way", "débit MAC de 2,5 Gb/s et moins de 2,5 ms en moyenne par sens"],
  "terms.opening": ["opening", "ouverture"],
  "terms.hazard": ["hazard", "risque"],
  "terms.bell": ["bell", "sonnette"],
  "terms.need": ["need", "besoin"],
  "terms.obligation": ["obligation", "obligation"],
  "terms.reading": ["reading", "mesure"],
  "terms.heard": ["heard", "réseau voisin entendu"],
  "terms.placed plug": ["placed plug", "fiche de repérage posée"],
  "terms.trace reading": ["trace reading", "lecture de repérage"],
  "terms.line check": ["line check", "contrôle de ligne"],
  "terms.decision": ["decision", "décision"],
  "terms.tick": ["tick", "étape cochée"],
  "terms.acceptance": ["acceptance", "ligne de réception"],
  "terms.job": ["job", "dossier"],
  "terms.service": ["service", "accès internet"],
  "terms.choices": ["choices", "choix"],
  "terms.gate": ["gate", "feu vert"],
  "terms.contacts": ["contacts", "contacts"],
  "terms.position": ["position", "position"],
  "terms.name": ["name", "nom"],
  "terms.state": ["state", "état"],
  "terms.notes": ["notes", "notes"],
  "terms.equipment": ["equipment", "matériel"],
  "terms.paired": ["paired", "associé"],
  "terms.refused": ["refused", "refusé"],
  "terms.forgotten": ["forgotten", "oublié"],
  "terms.wrong-code": ["wrong-code", "code faux"],
  "terms.limit": ["limit", "limite"],
  "terms.erased": ["erased", "effacé"],
  "terms.down_mbps": ["down_mbps", "débit descendant"],
  "terms.up_mbps": ["up_mbps", "débit montant"],
  "terms.link_mbps": ["link_mbps", "débit du lien"],
  "terms.power_dbm": ["power_dbm", "niveau reçu"],
  "terms.delay_ms": ["delay_ms", "latence"],
  "terms.loaded_delay_ms": ["loaded_delay_ms", "latence en charge"],
  "terms.height_m": ["height_m", "hauteur"],
  "terms.x_m": ["x_m", "position x"],
  "terms.y_m": ["y_m", "position y"],
  "terms.repeats": ["repeats", "nombre de répétitions"],
  "terms.shift_db": ["shift_db", "écart en dB"],
  "terms.thickness_m": ["thickness_m", "épaisseur"],
  "terms.storey_height_m": ["storey_height_m", "hauteur du niveau"],
  "terms.year": ["year", "année"],
  "terms.video call 720p": ["video call 720p", "appel vidéo 720p"],
  "terms.video call group": ["video call group", "appel vidéo à plusieurs"],
  "terms.video call 1080p": ["video call 1080p", "appel vidéo 1080p"],
  "terms.stream 720p": ["stream 720p", "vidéo en ligne 720p"],
  "terms.stream 1080p": ["stream 1080p", "vidéo en ligne 1080p"],
  "terms.stream 4K": ["stream 4K", "vidéo en ligne 4K"],
  "terms.camera 1080p": ["camera 1080p", "caméra 1080p"],
  "terms.camera 4 MP": ["camera 4 MP", "caméra 4 MP"],
  "terms.camera 4 MP H.265": ["camera 4 MP H.265", "caméra 4 MP H.265"],
  "terms.camera 8 MP H.265": ["camera 8 MP H.265", "caméra 8 MP H.265"],
  "terms.cloud game": ["cloud game", "jeu en nuage"],
  "terms.web and mail": ["web and mail", "web et courriel"],
  "terms.home office": ["home office", "télétravail"],
  "terms.large downloads": ["large downloads", "gros téléchargements"],
  "terms.new phone": ["new phone", "téléphone récent"],
  "terms.phone": ["phone", "téléphone portable"],
  "terms.laptop": ["laptop", "ordinateur portable"],
  "terms.old laptop": ["old laptop", "vieil ordinateur portable"],
  "terms.tablet": ["tablet", "tablette"],
  "terms.camera": ["camera", "caméra"],
  "terms.small device": ["small device", "petit appareil"],
  "terms.plug-in adapter": ["plug-in adapter", "adaptateur enfichable"],
  "terms.separation from power": ["separation from power", "séparation d'avec le courant fort"],
  "terms.separation at a distance": ["separation at a distance", "séparation à distance"],
  "terms.same box as power": ["same box as power", "même boîte que le courant fort"],
  "terms.bonding conductor": ["bonding conductor", "conducteur d'équipotentialité"],
  "terms.data cable and mains in one box": ["data cable and mains in one box", "câble de données et secteur dans une même boîte"],
  "terms.a listed divider between them": ["a listed divider between them", "une cloison homologuée entre les deux"],
  "terms.long parallel runs beside unshielded power lines under 480 V": ["long parallel runs beside unshielded power lines under 480 V", "longs parcours parallèles à des lignes non blindées de moins de 480 V"],
  "terms.data cable beside light and power conductors": ["data cable beside light and power conductors", "câble de données à côté de conducteurs d'éclairage et de force"],
  "terms.a raceway or a cable sheath on the power side": ["a raceway or a cable sheath on the power side", "une goulotte ou la gaine du câble du côté du courant fort"],
  "terms.primary protector and cable shield to the building ground": ["primary protector and cable shield to the building ground", "parasurtenseur d'entrée et blindage du câble à la terre du bâtiment"],
  "terms.unscreened data cable beside unscreened power cable": ["unscreened data cable beside unscreened power cable", "câble de données non blindé à côté d'un câble de courant non blindé"],
  "terms.none needed in the last 15 m by that edition": ["none needed in the last 15 m by that edition", "rien d'exigé dans les 15 derniers mètres selon cette édition"],
  "terms.functional earth of a rack": ["functional earth of a rack", "terre fonctionnelle d'une baie"],
  "terms.customer cable beside low-voltage power": ["customer cable beside low-voltage power", "câble du client à côté de la basse tension"],
  "terms.a barrier of durable insulating material": ["a barrier of durable insulating material", "une barrière en isolant durable"],
  "terms.every splitter on the path rated to 1675 MHz and a filter at the point of entry": ["every splitter on the path rated to 1675 MHz and a filter at the point of entry", "chaque répartiteur du trajet prévu jusqu'à 1675 MHz et un filtre au point d'entrée"],
  "terms.Keep it off a coax that carries satellite television": ["Keep it off a coax that carries satellite television", "Ne pas l'utiliser sur un coaxial qui porte la télévision par satellite"],
  "terms.a coax without splitters or with splitters rated for it": ["a coax without splitters or with splitters rated for it", "un coaxial sans répartiteurs, ou avec des répartiteurs prévus pour cela"],
  "terms.Keep it off a coax that carries broadcast in the same band": ["Keep it off a coax that carries broadcast in the same band", "Ne pas l'utiliser sur un coaxial qui porte une diffusion dans la même bande"],
  "terms.one pair free of every telephone and of DSL": ["one pair free of every telephone and of DSL", "une paire libre de tout téléphone et de DSL"],
  "terms.It fills the band that DSL and G.fast use: never on a pair with a live DSL line": ["It fills the band that DSL and G.fast use: never on a pair with a live DSL line", "Il remplit la bande du DSL et du G.fast : jamais sur une paire avec une ligne DSL active"],
  "terms.sockets on one board; no surge strip in between": ["sockets on one board; no surge strip in between", "des prises sur un même tableau ; pas de multiprise parafoudre entre elles"],
  "terms.Rate swings with every appliance: last resort for a fixed link": ["Rate swings with every appliance: last resort for a fixed link", "Le débit varie avec chaque appareil : dernier recours pour un lien fixe"],
  "terms.a duct or a surface route; the glass is new": ["a duct or a surface route; the glass is new", "une gaine ou un passage en apparent ; la fibre est neuve"],
  "terms.Never look into a fibre end": ["Never look into a fibre end", "Ne jamais regarder dans le bout d'une fibre"],
  "terms.untwisted four-wire telephone cable": ["untwisted four-wire telephone cable", "câble téléphonique à quatre fils non torsadés"],
  "terms.Category 3": ["Category 3", "Catégorie 3"],
  "terms.Category 5": ["Category 5", "Catégorie 5"],
  "terms.Category 5e": ["Category 5e", "Catégorie 5e"],
  "terms.Category 6": ["Category 6", "Catégorie 6"],
  "terms.Category 6A": ["Category 6A", "Catégorie 6A"],
  "terms.Lay each pair twisted to its slot, punch down, trim; jacket right up to the jack": ["Lay each pair twisted to its slot, punch down, trim; jacket right up to the jack", "Amener chaque paire torsadée jusqu'à sa fente, insérer, couper ; la gaine jusqu'au noyau"],
  "terms.Order the wires, cut them straight with 13 mm showing, push until the jacket is under the strain relief, crimp": ["Order the wires, cut them straight with 13 mm showing, push until the jacket is under the strain relief, crimp", "Ranger les fils, les couper droit à 13 mm, pousser jusqu'à ce que la gaine soit sous le serre-câble, sertir"],
  "terms.Lay each pair twisted to its slot, punch down, trim; jacket within 13 mm of the slots": ["Lay each pair twisted to its slot, punch down, trim; jacket within 13 mm of the slots", "Amener chaque paire torsadée jusqu'à sa fente, insérer, couper ; la gaine à 13 mm des fentes au plus"],
  "terms.Bare 8 mm, hook round the screw clockwise, one wire to a side of the washer": ["Bare 8 mm, hook round the screw clockwise, one wire to a side of the washer", "Dénuder 8 mm, enrouler autour de la vis dans le sens horaire, un fil de chaque côté de la rondelle"],
  "terms.jack": ["jack", "noyau RJ45"],
  "terms.plug": ["plug", "fiche"],
  "terms.screw terminal": ["screw terminal", "borne à vis"],
  "terms.two pairs": ["two pairs", "deux paires"],
  "terms.second link": ["second link", "second lien"],
  "terms.telephone 6 pin": ["telephone 6 pin", "téléphone 6 contacts"],
  "terms.telephone 8 pin": ["telephone 8 pin", "téléphone 8 contacts"],
  "terms.white": ["white", "blanc"],
  "terms.blue": ["blue", "bleu"],
  "terms.orange": ["orange", "orange"],
  "terms.green": ["green", "vert"],
  "terms.brown": ["brown", "marron"],
  "terms.slate": ["slate", "gris"],
  "terms.red": ["red", "rouge"],
  "terms.black": ["black", "noir"],
  "terms.yellow": ["yellow", "jaune"],
  "terms.violet": ["violet", "violet"],
  "terms.sources contradict each other on this pair: measure": ["sources contradict each other on this pair: measure", "les sources se contredisent sur cette paire : mesurer"],
  "terms.terminal 2 by one page and terminal 5 by another: measure": ["terminal 2 by one page and terminal 5 by another: measure", "borne 2 selon une page et borne 5 selon une autre : mesurer"],
  "terms.terminal 5 by one page and terminal 2 by another: measure": ["terminal 5 by one page and terminal 2 by another: measure", "borne 5 selon une page et borne 2 selon une autre : mesurer"],
  "terms.terminal 3 or 4: bell wire and spare; measure": ["terminal 3 or 4: bell wire and spare; measure", "borne 3 ou 4 : fil de sonnerie et réserve ; mesurer"],
  "terms.terminal 4 or 3: bell wire and spare; measure": ["terminal 4 or 3: bell wire and spare; measure", "borne 4 ou 3 : fil de sonnerie et réserve ; mesurer"],
  "terms.not usually used": ["not usually used", "d'habitude inutilisé"],
  "terms.terminal 2 by this page": ["terminal 2 by this page", "borne 2 selon cette page"],
  "terms.terminal 5 by this page": ["terminal 5 by this page", "borne 5 selon cette page"],
  "terms.terminal 3 carries ringing": ["terminal 3 carries ringing", "la borne 3 porte la sonnerie"],
  "terms.terminal 4 connected for neatness": ["terminal 4 connected for neatness", "borne 4 raccordée pour faire propre"],
  "terms.orange and white are usually the line and which is which varies: measure": ["orange and white are usually the line and which is which varies: measure", "l'orange et le blanc sont d'habitude la ligne, dans un ordre qui varie : mesurer"],
  "terms.second line": ["second line", "seconde ligne"],
  "terms.terminal 2 of the 600 series socket": ["terminal 2 of the 600 series socket", "borne 2 de la prise série 600"],
  "terms.terminal 6 of the 600 series socket": ["terminal 6 of the 600 series socket", "borne 6 de la prise série 600"],
  "terms.older cable also used blue with red and white with black as pairs: measure": ["older cable also used blue with red and white with black as pairs: measure", "le câble plus ancien appairait aussi bleu et rouge, blanc et noir : mesurer"],
  "terms.straps": ["straps", "ponts"],
  "terms.resistors": ["resistors", "résistances"],
  "terms.toner": ["toner", "générateur de tonalité"],
  "terms.one fault is seen through": ["one fault is seen through", "un défaut n'empêche pas de reconnaître la prise"],
  "terms.one fault is never taken for another outlet": ["one fault is never taken for another outlet", "un défaut n'est jamais pris pour une autre prise"],
  "terms.one fault can mislead": ["one fault can mislead", "un défaut peut tromper"],
  "terms.confirmed": ["confirmed", "confirmé"],
  "terms.read": ["read", "lu"],
  "terms.several possible": ["several possible", "plusieurs possibles"],
  "terms.not read yet": ["not read yet", "pas encore lu"],
  "terms.readings contradict each other": ["readings contradict each other", "les mesures se contredisent"],
  "terms.every colour": ["every colour", "toutes les couleurs"],
  "terms.colours, but T568A or T568B at the outlet": ["colours, but T568A or T568B at the outlet", "les couleurs, mais T568A ou T568B à la prise"],
  "terms.pair colours only": ["pair colours only", "les couleurs des paires seulement"],
  "terms.twist only": ["twist only", "le torsadage seulement"],
  "terms.between the ends": ["between the ends", "entre les deux bouts"],
  "terms.dc": ["dc", "continu"],
  "terms.ac": ["ac", "alternatif"],
  "terms.Ask at the door and sign the list of what is not touched": ["Ask at the door and sign the list of what is not touched", "Poser les questions à la porte et signer la liste de ce qu'on ne touche pas"],
  "terms.Measure each room before the work with doors shut": ["Measure each room before the work with doors shut", "Mesurer chaque pièce avant les travaux, portes fermées"],
  "terms.Photograph a box before anything is disconnected": ["Photograph a box before anything is disconnected", "Photographier une boîte avant de débrancher quoi que ce soit"],
  "terms.Prove that a line is dead or find who depends on it": ["Prove that a line is dead or find who depends on it", "Prouver qu'une ligne est hors tension ou trouver qui en dépend"],
  "terms.Tone a cable and tag both ends": ["Tone a cable and tag both ends", "Suivre un câble à la tonalité et étiqueter ses deux bouts"],
  "terms.Wire map and length and link test of a cable": ["Wire map and length and link test of a cable", "Contrôler schéma de câblage, longueur et lien d'un câble"],
  "terms.Find and mend a damaged cable": ["Find and mend a damaged cable", "Trouver et réparer un câble endommagé"],
  "terms.Fish a new cable through an easy bay": ["Fish a new cable through an easy bay", "Passer un nouveau câble dans un vide facile"],
  "terms.Fish a new cable between storeys": ["Fish a new cable between storeys", "Passer un nouveau câble d'un niveau à l'autre"],
  "terms.Seal a hole through a floor or rated wall": ["Seal a hole through a floor or rated wall", "Calfeutrer un trou dans un plancher ou un mur coupe-feu"],
  "terms.Bring a new cable in from an open floor or attic": ["Bring a new cable in from an open floor or attic", "Amener un nouveau câble par un sous-plancher ou des combles accessibles"],
  "terms.Draw a new cable in with the old one": ["Draw a new cable in with the old one", "Tirer un nouveau câble avec l'ancien"],
  "terms.Check a conduit: its bore and what stays in it and whether the old cable slides": ["Check a conduit: its bore and what stays in it and whether the old cable slides", "Contrôler une gaine : son diamètre, ce qui y reste, et si l'ancien câble coulisse"],
  "terms.Run a new cable along skirting and corners": ["Run a new cable along skirting and corners", "Poser un nouveau câble le long des plinthes et des angles"],
  "terms.Pass a surface cable through a floor or a masonry wall": ["Pass a surface cable through a floor or a masonry wall", "Faire traverser un plancher ou un mur de maçonnerie à un câble apparent"],
  "terms.Pull a fibre to an outbuilding and test it": ["Pull a fibre to an outbuilding and test it", "Tirer une fibre jusqu'à une dépendance et la tester"],
  "terms.Find a fault from both ends and open the wall there": ["Find a fault from both ends and open the wall there", "Localiser un défaut depuis les deux bouts et y ouvrir le mur"],
  "terms.Fit a small switch at a box": ["Fit a small switch at a box", "Poser un petit commutateur à une boîte"],
  "terms.Disconnect an old line at the demarcation point and tag it": ["Disconnect an old line at the demarcation point and tag it", "Débrancher une ancienne ligne au point de démarcation et l'étiqueter"],
  "terms.Tag both ends of a cable that stays in the wall": ["Tag both ends of a cable that stays in the wall", "Étiqueter les deux bouts d'un câble qui reste dans le mur"],
  "terms.Stop: wait for a sign-off and read it": ["Stop: wait for a sign-off and read it", "Arrêt : attendre un accord signé et le lire"],
  "terms.Terminate a jack and label it": ["Terminate a jack and label it", "Raccorder un noyau RJ45 et l'étiqueter"],
  "terms.Terminate a panel port and label it": ["Terminate a panel port and label it", "Raccorder un port de panneau et l'étiqueter"],
  "terms.Fit a plate and its box": ["Fit a plate and its box", "Poser une prise et sa boîte"],
  "terms.Take an outlet out of a chain": ["Take an outlet out of a chain", "Sortir une prise d'une chaîne"],
  "terms.Test and record a finished run": ["Test and record a finished run", "Tester un câble fini et consigner le résultat"],
  "terms.Mount rack or panel board and dress cables": ["Mount rack or panel board and dress cables", "Monter la baie ou la platine et peigner les câbles"],
  "terms.Check bonding and power at the closet": ["Check bonding and power at the closet", "Vérifier l'équipotentialité et l'alimentation au local technique"],
  "terms.Mount and cable a switch or router or battery": ["Mount and cable a switch or router or battery", "Monter et câbler un commutateur, un routeur ou un onduleur"],
  "terms.Mount and connect an access point": ["Mount and connect an access point", "Monter et raccorder un point d'accès"],
  "terms.Set names and channels and networks": ["Set names and channels and networks", "Régler noms, canaux et réseaux"],
  "terms.Measure each room after the work at the same places": ["Measure each room after the work at the same places", "Mesurer chaque pièce après les travaux, aux mêmes endroits"],
  "terms.Walk the house with the household and hand over the record": ["Walk the house with the household and hand over the record", "Faire le tour de la maison avec les occupants et remettre le dossier"],
  "terms.Travel and unload for one visit": ["Travel and unload for one visit", "Trajet et déchargement pour une visite"],
  "terms.Move the router and its cords and try it there": ["Move the router and its cords and try it there", "Déplacer le routeur et ses cordons, et l'essayer à sa place"],
  "terms.Fit an adapter at a coax plate and try its link": ["Fit an adapter at a coax plate and try its link", "Poser un adaptateur à une prise coaxiale et essayer son lien"],
  "terms.Replace or fit a coax splitter or filter and cap what is open": ["Replace or fit a coax splitter or filter and cap what is open", "Remplacer ou poser un répartiteur coaxial ou un filtre et boucher ce qui reste ouvert"],
  "terms.Plug a new radio into an old device (the household does it; not paid)": ["Plug a new radio into an old device (the household does it; not paid)", "Brancher une nouvelle radio sur un ancien appareil (par le foyer ; non facturé)"],
  "terms.Stay out of boxes with mains wiring; a licensed electrician opens those. Keep the separation that your local code asks for": ["Stay out of boxes with mains wiring; a licensed electrician opens those. Keep the separation that your local code asks for", "N'ouvrir aucune boîte qui contient des fils du secteur : seul un électricien habilité les ouvre. Respecter la séparation que demandent les règles locales"],
  "terms.A telephone pair can carry about 50 V dc and about 90 V ac while it rings. Disconnect at the demarcation point and measure before touching bare copper": ["A telephone pair can carry about 50 V dc and about 90 V ac while it rings. Disconnect at the demarcation point and measure before touching bare copper", "Une paire téléphonique peut porter environ 50 V continus, et environ 90 V alternatifs quand elle sonne. Débrancher au point de démarcation et mesurer avant de toucher du cuivre nu"],
  "terms.A monitored or pendant alarm may sit in series before every telephone. Call its monitoring centre and have the sign-off recorded before anything on that pair is moved": ["A monitored or pendant alarm may sit in series before every telephone. Call its monitoring centre and have the sign-off recorded before anything on that pair is moved", "Une alarme télésurveillée ou une téléassistance peut être raccordée en série, avant tous les téléphones. Appeler son centre de surveillance et faire consigner l'accord signé avant de déplacer quoi que ce soit sur cette paire"],
  "terms.Set a ladder one out for four up, on firm ground, and keep three points of contact": ["Set a ladder one out for four up, on firm ground, and keep three points of contact", "Écarter le pied de l'échelle du mur d'un quart de la hauteur, sur un sol ferme, et garder trois points d'appui"],
  "terms.Old paint may hold lead. Keep the dust down and follow the renovation rule of your country before cutting or hammering": ["Old paint may hold lead. Keep the dust down and follow the renovation rule of your country before cutting or hammering", "Une peinture ancienne peut contenir du plomb. Limiter la poussière et suivre la règle de rénovation de votre pays avant de couper ou de frapper"],
  "terms.Old plaster, boards and lagging may hold asbestos. Stop and have it tested before cutting": ["Old plaster, boards and lagging may hold asbestos. Stop and have it tested before cutting", "De vieux enduits, plaques et calorifugeages peuvent contenir de l'amiante. S'arrêter et faire analyser avant de couper"],
  "terms.Open knob-and-tube wiring may be live behind plaster. Have an electrician make it safe before anything is fished": ["Open knob-and-tube wiring may be live behind plaster. Have an electrician make it safe before anything is fished", "Une ancienne installation électrique sur isolateurs peut être sous tension derrière l'enduit. La faire mettre en sécurité par un électricien avant de passer un câble"],
  "terms.Close every hole through a floor or a fire-rated wall with a listed seal and write it in the hole log": ["Close every hole through a floor or a fire-rated wall with a listed seal and write it in the hole log", "Reboucher chaque trou dans un plancher ou un mur coupe-feu avec un calfeutrement homologué, et l'inscrire au registre des percements"],
  "terms.Above 54 °C in an attic: 20 minutes of work, 10 of rest, never alone": ["Above 54 °C in an attic: 20 minutes of work, 10 of rest, never alone", "Au-dessus de 54 °C dans des combles : 20 minutes de travail, 10 de repos, jamais seul"],
  "terms.Do not bundle more than 24 powered cables and keep them out of sealed hot spaces; full power warms thin pairs": ["Do not bundle more than 24 powered cables and keep them out of sealed hot spaces; full power warms thin pairs", "Ne pas réunir plus de 24 câbles alimentés en un faisceau, et les tenir hors des volumes fermés et chauds ; à pleine puissance, les paires fines chauffent"],
  "terms.Eye protection and a dust mask when drilling overhead": ["Eye protection and a dust mask when drilling overhead", "Lunettes de protection et masque antipoussière pour percer au-dessus de la tête"],
  "terms.Photograph every box before a wire is moved": ["Photograph every box before a wire is moved", "Photographier chaque boîte avant de déplacer un fil"],
  "terms.In some countries only registered cablers may work on fixed cabling; check before you start": ["In some countries only registered cablers may work on fixed cabling; check before you start", "Dans certains pays, seuls des installateurs enregistrés peuvent intervenir sur le câblage fixe ; vérifier avant de commencer"],
  "terms.The shield of a coax that comes from outside is bonded to earth where it enters: leave that bond in place, and touch no bare shield and other metal at once; a dish or an amplifier may feed 13 to 24 V over its middle wire": ["The shield of a coax that comes from outside is bonded to earth where it enters: leave that bond in place, and touch no bare shield and other metal at once; a dish or an amplifier may feed 13 to 24 V over its middle wire", "Le blindage d'un coaxial qui vient de l'extérieur est relié à la terre à son entrée : laisser cette liaison en place, et ne jamais toucher en même temps un blindage nu et un autre métal ; pour une parabole ou un amplificateur, son conducteur central peut porter de 13 à 24 V"],
  "terms.toner and probe": ["toner and probe", "générateur de tonalité et sonde"],
  "terms.trace": ["trace", "repérage"],
  "terms.multimeter": ["multimeter", "multimètre"],
  "terms.live lines, loop resistance": ["live lines, loop resistance", "lignes en service, résistance de boucle"],
  "terms.wire-map tester": ["wire-map tester", "testeur de schéma de câblage"],
  "terms.wire map and split pairs": ["wire map and split pairs", "schéma de câblage et paires dépairées"],
  "terms.two laptops or a laptop and a test set": ["two laptops or a laptop and a test set", "deux ordinateurs portables, ou un portable et un testeur"],
  "terms.link rate and errors over a timed transfer": ["link rate and errors over a timed transfer", "débit du lien et erreurs sur un transfert chronométré"],
  "terms.punch-down or jack tool": ["punch-down or jack tool", "outil à insérer ou pince pour noyaux"],
  "terms.jacks and panel": ["jacks and panel", "noyaux et panneau"],
  "terms.stripper and flush cutters": ["stripper and flush cutters", "pince à dénuder et pince coupante à ras"],
  "terms.terminations": ["terminations", "raccordements"],
  "terms.label printer, 6 mm tape": ["label printer, 6 mm tape", "étiqueteuse, ruban de 6 mm"],
  "terms.labels": ["labels", "étiquettes"],
  "terms.fish rods and pull cord": ["fish rods and pull cord", "joncs et tire-fil"],
  "terms.new pulls": ["new pulls", "nouveaux câbles"],
  "terms.drill and long bits": ["drill and long bits", "perceuse et mèches longues"],
  "terms.hole saw": ["hole saw", "scie cloche"],
  "terms.plates": ["plates", "prises"],
  "terms.ladder": ["ladder", "échelle"],
  "terms.access points": ["access points", "points d'accès"],
  "terms.screwdriver set": ["screwdriver set", "jeu de tournevis"],
  "terms.plates and racks": ["plates and racks", "prises et baies"],
  "terms.vacuum and dust sheets": ["vacuum and dust sheets", "aspirateur et bâches"],
  "terms.drilling": ["drilling", "perçage"],
  "terms.head torch": ["head torch", "lampe frontale"],
  "terms.closet": ["closet", "local technique"],
  "terms.phone or tablet": ["phone or tablet", "téléphone ou tablette"],
  "terms.photos and readings": ["photos and readings", "photos et mesures"],
  "terms.fish rods and magnet": ["fish rods and magnet", "joncs et aimant"],
  "terms.new pulls from an open floor": ["new pulls from an open floor", "nouveaux câbles par un sous-plancher accessible"],
  "terms.cable lubricant and pull cord": ["cable lubricant and pull cord", "lubrifiant pour câble et tire-fil"],
  "terms.drawing in a new cable with the old one": ["drawing in a new cable with the old one", "tirage d'un nouveau câble avec l'ancien"],
  "terms.calliper and mirror": ["calliper and mirror", "pied à coulisse et miroir"],
  "terms.conduit bore": ["conduit bore", "diamètre intérieur de la gaine"],
  "terms.trunking saw and level": ["trunking saw and level", "scie à goulotte et niveau à bulle"],
  "terms.surface runs": ["surface runs", "poses en apparent"],
  "terms.masonry bit and hammer drill with dust bag": ["masonry bit and hammer drill with dust bag", "foret à maçonnerie et perforateur avec sac à poussière"],
  "terms.holes through floors and masonry": ["holes through floors and masonry", "trous dans les planchers et la maçonnerie"],
  "terms.fibre power meter and visual fault finder": ["fibre power meter and visual fault finder", "radiomètre optique et stylo laser de repérage"],
  "terms.fibre": ["fibre", "fibre"],
  "terms.low-ohm meter": ["low-ohm meter", "milliohmmètre"],
  "terms.fault distance from both ends": ["fault distance from both ends", "distance du défaut depuis les deux bouts"],
  "terms.oscillating saw and vacuum": ["oscillating saw and vacuum", "scie oscillante et aspirateur"],
  "terms.clean cut-outs": ["clean cut-outs", "découpes nettes"],
  "terms.tags and pen": ["tags and pen", "étiquettes et stylo"],
  "terms.cables that stay": ["cables that stay", "câbles qui restent"],
  "terms.floor": ["floor", "plancher"],
  "terms.fire-stop sealant, both sides": ["fire-stop sealant, both sides", "mastic coupe-feu, des deux côtés"],
  "terms.floor or masonry wall, drilled in the corner": ["floor or masonry wall, drilled in the corner", "plancher ou mur de maçonnerie, percé dans l'angle"],
  "terms.plate cut-out and any block on the way": ["plate cut-out and any block on the way", "découpe de la prise et toute entretoise sur le passage"],
  "terms.plate; fire-stop where a block was drilled": ["plate; fire-stop where a block was drilled", "prise ; calfeutrement coupe-feu où une entretoise a été percée"],
  "terms.plate cut-out, top or sole plate": ["plate cut-out, top or sole plate", "découpe de la prise, lisse haute ou basse"],
  "terms.plate; fire-stop at every plate that was drilled": ["plate; fire-stop at every plate that was drilled", "prise ; calfeutrement coupe-feu à chaque lisse percée"],
  "terms.sole or top plate from the open side": ["sole or top plate from the open side", "lisse basse ou haute, depuis le côté ouvert"],
  "terms.fire-stop sealant": ["fire-stop sealant", "mastic coupe-feu"],
  "terms.outer walls of both buildings": ["outer walls of both buildings", "murs extérieurs des deux bâtiments"],
  "terms.sealant against water and vermin, sloping outwards": ["sealant against water and vermin, sloping outwards", "mastic contre l'eau et les nuisibles, en pente vers l'extérieur"],
  "terms.door": ["door", "porte"],
  "terms.house": ["house", "maison"],
  "terms.whole house": ["whole house", "toute la maison"],
  "terms.the whole home": ["the whole home", "tout le logement"],
  "terms.on the whole way": ["on the whole way", "sur tout le passage"],
  "terms.have it tested by a licensed firm": ["have it tested by a licensed firm", "faire analyser par une entreprise agréée"],
  "terms.have it tested, or let a certified firm make the hole": ["have it tested, or let a certified firm make the hole", "faire analyser, ou confier le perçage à une entreprise certifiée"],
  "terms.a licensed electrician makes it safe first": ["a licensed electrician makes it safe first", "faire d'abord mettre en sécurité par un électricien habilité"],
  "terms.have it made safe by the trade it belongs to": ["have it made safe by the trade it belongs to", "faire mettre en sécurité par le corps de métier concerné"],
  "terms.suspected": ["suspected", "soupçonné"],
  "terms.present": ["present", "présent"],
  "terms.not signed for": ["not signed for", "sans accord signé"],
  "terms.Only a registered cabler may work on fixed telephone and data cabling": ["Only a registered cabler may work on fixed telephone and data cabling", "Seul un installateur enregistré peut intervenir sur le câblage fixe de téléphone et de données"],
  "terms.registered cabler": ["registered cabler", "installateur enregistré"],
  "terms.voltage at the door": ["voltage at the door", "tension à la porte"],
  "terms.power at the place": ["power at the place", "alimentation sur place"],
  "terms.power over an old run": ["power over an old run", "alimentation par un ancien câble"],
  "terms.power the switch gives": ["power the switch gives", "puissance que donne le commutateur"],
  "terms.heat in the bundle": ["heat in the bundle", "chaleur dans le faisceau"],
  "terms.heat where the boxes stand": ["heat where the boxes stand", "chaleur où sont les appareils"],
  "terms.minutes on battery": ["minutes on battery", "minutes sur batterie"],
  "terms.tenancy": ["tenancy", "logement loué"],
  "terms.Check your local code.": ["Check your local code.", "Vérifier les règles locales."],
  "terms.Do nothing": ["Do nothing", "Ne rien faire"],
  "terms.Only what is needed": ["Only what is needed", "Seulement le nécessaire"],
  "terms.Better": ["Better", "Équilibré"],
  "terms.Good": ["Good", "Étendu"],
  "terms.untested": ["untested", "non testé"],
  "terms.the router": ["the router", "le routeur"],
  "terms.to the middle of the ceiling": ["to the middle of the ceiling", "jusqu'au milieu du plafond"],
  "terms.up from the open floor into the wall": ["up from the open floor into the wall", "depuis le sous-plancher, en montant dans le mur"],
  "terms.down from the open attic to the ceiling": ["down from the open attic to the ceiling", "depuis les combles, en descendant au plafond"],
  "terms.along skirting and corners in trunking": ["along skirting and corners in trunking", "en goulotte, le long des plinthes et des angles"],
  "terms.drawn in with the old cable": ["drawn in with the old cable", "tiré avec l'ancien câble"],
  "terms.as fibre in a duct: no copper between buildings": ["as fibre in a duct: no copper between buildings", "en fibre sous fourreau : pas de cuivre entre les bâtiments"],
  "terms.tested by a certification instrument: its rate is promised": ["tested by a certification instrument: its rate is promised", "testé par un appareil de certification : son débit est promis"],
  "terms.worked when it was tested: that rate is promised on the day of handover": ["worked when it was tested: that rate is promised on the day of handover", "a fonctionné lors de l'essai : ce débit est promis le jour de la remise"],
  "terms.expected from other evidence: not promised; if its test fails the way round it is offered at its price before it is begun": ["expected from other evidence: not promised; if its test fails the way round it is offered at its price before it is begun", "attendu d'après d'autres indices : pas promis ; si son essai échoue, la solution de rechange est proposée à son prix avant d'être commencée"],
  "terms.not known: nothing is promised and nothing in the price leans on it": ["not known: nothing is promised and nothing in the price leans on it", "non connu : rien n'est promis et rien dans le prix n'en dépend"],
  "words.and": ["{first} and {last}", "{first} et {last}"],
  "words.or": ["{first} or {last}", "{first} ou {last}"],
  "words.listed": ["{names:and}", "{names:and}"],
  "words.joined": ["{parts:join|, }", "{parts:join|, }"],
  "words.in_turn": ["{parts:join|; }", "{parts:join| ; }"],
  "words.sentences": ["{parts:join| }", "{parts:join| }"],
  "words.count_cables": ["{n:count|cable|cables}", "{n:count|câble|câbles}"],
  "words.number_0": ["none", "aucune"],
  "words.number_1": ["one", "une"],
  "words.number_2": ["two", "deux"],
  "words.number_3": ["three", "trois"],
  "words.source": ["{document:term}, {place:term} [{how:term}]", "{document:term}, {place:term} [{how:term}]"],
  "words.source_of_edition": ["{document:term} ({edition:term}), {place:term} [{how:term}]", "{document:term} ({edition:term}), {place:term} [{how:term}]"],
} as const;
export type Code = keyof typeof SENTENCES;

/** What a file of one language has: sentences by code, words of lists by their English. */
export type Words = { SENTENCES: Record<Code, string>; TERMS: Record<string, string> };

/** The values that a sentence names. */
// prettier-ignore
export type Named = {
  "page_cables.change_cable": "id";
  "page_cables.add_cable": "id";
  "page_cables.obligation_on": "run";
  "page_cables.likely": "rate";
  "page_cables.can_do_nothing": never;
  "page_cables.what_each_cable_can_do_is": never;
  "page_cables.schedule": never;
  "page_cables.cable_schedule": never;
  "page_cables.ends": never;
  "page_cables.kind": never;
  "page_cables.state": never;
  "page_cables.what_it_can_do": never;
  "page_cables.change": never;
  "page_cables.pairs_tail": "pairs";
  "page_cables.no_plan_yet": never;
  "page_cables.close": never;
  "page_cables.open": never;
  "page_cables.cable": "id";
  "page_cables.end": "number";
  "page_cables.topology": never;
  "page_cables.pairs": never;
  "page_cables.printed_on_the_sheath": never;
  "page_cables.one_more_end": never;
  "page_cables.one_end_less": never;
  "page_cables.delete_cable": "id";
  "page_cables.delete_this_cable": never;
  "page_cables.by_rate": never;
  "page_cables.on_a_closer_look": never;
  "page_cables.held": "problem";
  "page_cables.before_cutting_checks": "n";
  "page_cables.decided": "by" | "date" | "words";
  "page_cables.record_a_decision_about_this_cable": never;
  "page_cables.decision_about": "id";
  "page_cables.somebody_depends_on": "id";
  "page_cables.somebody_depends_on_it_2": never;
  "page_cables.no_cable_is_on_the_schedule": never;
  "page_cables.add_a_cable": never;
  "page_cables.who_still_depends_on_a_pair": never;
  "page_cables.depends_on_what": never;
  "page_cables.who": never;
  "page_cables.sign_off": never;
  "page_cables.what_is": "id";
  "page_cables.who_depends_on": "id";
  "page_cables.state_of": "id";
  "page_cables.record_the_sign_off": never;
  "page_cables.tracing_which_cable_is_which_outlet": never;
  "page_cables.wire_map_what_a_pin_to": never;
  "page_cables.cable_on_the_plan": never;
  "page_cables.no_cable_is_listed_yet_list": never;
  "page_cables.choose_one": never;
  "page_cables.its_route_is_long": "length";
  "page_cables.no_route_is_drawn_its_length": never;
  "page_cables.the_length_noted_for_it_counts": "length";
  "page_cables.it_runs_above_the_floor_at": never;
  "page_cables.point_so_far": "length" | "n";
  "page_cables.press_where_it_starts": never;
  "page_cables.end_the_route": never;
  "page_cables.take_back_a_point": never;
  "page_cables.draw_its_route_anew": never;
  "page_cables.draw_its_route": never;
  "page_cables.take_its_route_away": never;
  "page_cables.worth_a_try": "rate";
  "page_cables.length_span": "high" | "low";
  "page_common.house": never;
  "page_common.storey": never;
  "page_common.rooms": never;
  "page_common.not_known": never;
  "page_common.name": never;
  "page_common.wall": never;
  "page_common.room": never;
  "page_common.outlet": never;
  "page_common.reading": never;
  "page_common.outline_of": "name";
  "page_common.cable": never;
  "page_common.power_dbm": never;
  "page_common.delay_under_load_ms": never;
  "page_common.length": never;
  "page_common.kind_of": never;
  "page_common.width": never;
  "page_common.value": never;
  "page_common.nothing_was_heard_no_more_than": never;
  "page_common.band": never;
  "page_common.when": never;
  "page_common.delete": never;
  "page_common.walls": never;
  "page_common.outlets": never;
  "page_common.boxes": never;
  "page_common.cables": never;
  "page_common.leave_it": never;
  "page_common.power": never;
  "page_common.as_planned": never;
  "page_common.coverage_and_choice": never;
  "page_common.no_rooms_yet": never;
  "page_common.draw_the_house": never;
  "page_common.first": never;
  "page_common.access_point": never;
  "page_common.not_noted": never;
  "page_common.choose": never;
  "page_common.somebody_depends_on_it": never;
  "page_common.take_the_route_of_away": "id";
  "page_common.in_what_words": never;
  "page_common.tests_and_readings": never;
  "page_common.accepted": never;
  "page_common.work": never;
  "page_common.takeoff_and_quote": never;
  "page_common.house_in_3_d": never;
  "page_common.from_to": "high" | "low";
  "page_common.nearer": never;
  "page_common.farther": never;
  "page_common.show_all_of_it": never;
  "page_common.meter": never;
  "page_common.stop": never;
  "page_common.people_and_devices": never;
  "page_common.pair_this_device_rehaul": never;
  "page_common.handover": never;
  "page_common.beginning": never;
  "page_common.language": never;
  "page_common.language_not_fetched": never;
  "page_common.said_of": "what" | "words";
  "page_coverage.rate_at_a_spot_middling": never;
  "page_coverage.rate_at_the_least_5": never;
  "page_coverage.rate_at_best_95": never;
  "page_coverage.rate_up_at_a_spot_middling": never;
  "page_coverage.rate_up_at_the_least_5": never;
  "page_coverage.rate_up_at_best_95": never;
  "page_coverage.how_unsure_the_power_is": never;
  "page_coverage.no_map": never;
  "page_coverage.mb_s_middling": never;
  "page_coverage.mb_s_at_the_least_5": never;
  "page_coverage.mb_s_at_best_95": never;
  "page_coverage.power_in_dbm": never;
  "page_coverage.how_unsure_the_power_is_db": never;
  "page_coverage.map": never;
  "page_coverage.way": never;
  "page_coverage.down": never;
  "page_coverage.up": never;
  "page_coverage.strongest": never;
  "page_coverage.with": never;
  "page_coverage.boxes_that_stand": never;
  "page_coverage.the_plans_access_points": never;
  "page_coverage.what_this_spot_gets": never;
  "page_coverage.up_2": "rate";
  "page_coverage.up_3": "rate";
  "page_coverage.narrowest": never;
  "page_coverage.narrowest_down": never;
  "page_coverage.narrowest_up": never;
  "page_coverage.from_source": "source";
  "page_coverage.nothing_is_heard_here": never;
  "page_coverage.least_cost_for_every_number_of": never;
  "page_coverage.rooms_served": never;
  "page_coverage.cost_before_margin_and_tax": never;
  "page_coverage.of_rooms_for": "cost" | "rooms" | "served" | "tail";
  "page_coverage.needs_are_asked_room_by_room": never;
  "page_coverage.press_anywhere_to_ask_what_gets": never;
  "page_coverage.press_anywhere_to_ask_what_gets_2": never;
  "page_coverage.spot_and_front": never;
  "page_coverage.at_the_spot": never;
  "page_coverage.what_each_room_needs_gets_and": never;
  "page_coverage.what_each_room_needs": never;
  "page_coverage.delay_under_load_and_devices_that": never;
  "page_coverage.how_surely": never;
  "page_coverage.how_surely_counts_for_nine_places": never;
  "page_coverage.radar_shared_channels": never;
  "page_coverage.channels_shared_with_radar_may_be": never;
  "page_coverage.router_may_be_moved": never;
  "page_coverage.router_may_move": never;
  "page_coverage.hops_by_radio": never;
  "page_coverage.an_access_point_may_hang_on": never;
  "page_coverage.data_over_coax": never;
  "page_coverage.data_may_go_over_old_coax": never;
  "page_coverage.plug_in_radios": never;
  "page_coverage.an_old_laptop_may_get_a": never;
  "page_coverage.channels": never;
  "page_coverage.channel": never;
  "page_coverage.spend_for_room": "served";
  "page_coverage.least_cost_for_rooms_served": never;
  "page_coverage.of_rooms_for_2": "asking" | "cost" | "served";
  "page_coverage.before_margin_and_tax_as_planned": never;
  "page_coverage.before_margin_and_tax": never;
  "page_coverage.access_points_at": "sites";
  "page_coverage.no_new_access_point": never;
  "page_coverage.serves": "rooms";
  "page_coverage.serves_no_room": never;
  "page_coverage.plan_for_this": never;
  "page_coverage.proven_nothing_cheaper_does_it": never;
  "page_coverage.at_most_above_the_least_possible": "gap_pct";
  "page_coverage.not_read": never;
  "page_coverage.what_its_radio_is_set_to": never;
  "page_coverage.ghz_width": "band";
  "page_coverage.ghz_channel": "band";
  "page_coverage.read_it_off_the_boxs_own": never;
  "page_coverage.keep_at": "id" | "name";
  "page_coverage.tried_elsewhere": never;
  "page_coverage.is_tried_here_this_is_site": never;
  "page_coverage.is_tried_here_the_nearest_place": "off";
  "page_coverage.on_cable": "run";
  "page_coverage.by_a_new_cable_of": "length";
  "page_coverage.where_the_cables_meet": never;
  "page_coverage.keep_it_here": never;
  "page_coverage.keep_it_at": "id";
  "page_coverage.put_it_back": never;
  "page_coverage.site": "id" | "to";
  "page_coverage.falls_short": never;
  "page_coverage.sites": never;
  "page_coverage.site_2": never;
  "page_coverage.reached_by": never;
  "page_coverage.cost_to_get_there": never;
  "page_coverage.why": never;
  "page_coverage.may_it_be_used": never;
  "page_coverage.stands_here": "id";
  "page_coverage.cable": "rate" | "run";
  "page_coverage.the_routers_radio": never;
  "page_coverage.new_cable": "length";
  "page_coverage.a_cord": never;
  "page_coverage.site_3": "id";
  "page_coverage.free_to_choose": never;
  "page_coverage.pinned_must_be_used": never;
  "page_coverage.forbidden": never;
  "page_coverage.network_heard_on_channel": "channel";
  "page_coverage.neighbours_networks_heard": never;
  "page_coverage.from_a_scan_with_a_phone": never;
  "page_coverage.networks_heard": never;
  "page_coverage.network": never;
  "page_coverage.air_in_use": never;
  "page_coverage.where": never;
  "page_coverage.remove": never;
  "page_coverage.band_of": "id";
  "page_coverage.channel_of": "id";
  "page_coverage.width_of": "id";
  "page_coverage.power_of_dbm": "id";
  "page_coverage.air_in_use_by_per_cent": "id";
  "page_coverage.where_was_heard": "id";
  "page_coverage.when_was_heard": "id";
  "page_coverage.remove_network": "id";
  "page_coverage.network_2": "id";
  "page_coverage.none_written_down_yet_the_plan": never;
  "page_coverage.add_a_network_heard": never;
  "page_coverage.not_shown": never;
  "page_coverage.add_the_network": never;
  "page_coverage.the_rate_paid_for": never;
  "page_coverage.outside_tail": never;
  "page_coverage.not_lived_in": never;
  "page_coverage.need_of": "name";
  "page_coverage.needs_a_room_a_row": never;
  "page_coverage.uses": never;
  "page_coverage.mb_s_down": never;
  "page_coverage.mb_s_up": never;
  "page_coverage.how_surely_2": never;
  "page_coverage.wired_outlets": never;
  "page_coverage.today": never;
  "page_coverage.after": never;
  "page_coverage.all_at_once": never;
  "page_coverage.up_after": never;
  "page_coverage.delay_under_load": never;
  "page_coverage.narrowest_link_after_down_and_up": never;
  "page_coverage.none_named": never;
  "page_coverage.mb_s_down_in": "name";
  "page_coverage.mb_s_up_in": "name";
  "page_coverage.delay_under_load_asked_in_ms": "name";
  "page_coverage.how_surely_in_per_cent": "name";
  "page_coverage.wired_outlets_in": "name";
  "page_coverage.falls_short_2": never;
  "page_coverage.likely_between": "high" | "low";
  "page_coverage.power_at_spot": "band" | "power" | "sd_db" | "tail";
  "page_coverage.way_and_cost": "cost" | "name" | "way";
  "page_coverage.span_ms": "high" | "low";
  "page_frame.link_opening": never;
  "page_frame.all_saved": never;
  "page_frame.no_connection": never;
  "page_frame.saving_waiting": "waiting";
  "page_frame.no_connection_waiting": "waiting";
  "page_frame.to_the_sheet": never;
  "page_frame.all_jobs": never;
  "page_frame.stages_of_the_work": never;
  "page_frame.there_is_no_such_job_here": never;
  "page_frame.see_all_jobs": never;
  "page_frame.opening_the_job": never;
  "page_frame.title_block": never;
  "page_frame.job_an_invented_example": never;
  "page_frame.job": never;
  "page_frame.sheet": never;
  "page_frame.saved": never;
  "page_frame.here_now": never;
  "page_frame.edit_number": never;
  "page_frame.sheet_number": never;
  "page_frame.of": "n" | "number";
  "page_frame.undo": "label";
  "page_frame.nothing_to_undo": never;
  "page_frame.undo_2": never;
  "page_frame.redo": "label";
  "page_frame.nothing_to_redo": never;
  "page_frame.redo_2": never;
  "page_frame.that_is_more_than_the_server": never;
  "page_frame.do_it_in_several_steps": never;
  "page_frame.the_server_does_not_answer": never;
  "page_frame.what_you_draw_is_kept_here": never;
  "page_frame.the_server_answered": "status";
  "page_frame.try_again": never;
  "page_frame.it_keeps_nothing_for_this_page": never;
  "page_frame.another_tab_of_rehaul_holds_its": never;
  "page_frame.it_has_no_room_left": never;
  "page_frame.its_database_failed": "name";
  "page_frame.keep_your_edit": never;
  "page_frame.leave_this_page_open_until_it": never;
  "page_frame.read_what_it_kept": never;
  "page_frame.edits_that_waited_in_it_are": never;
  "page_frame.strike_out_an_edit_that_is": never;
  "page_frame.it_may_show_up_again_when": never;
  "page_frame.keep_a_copy_of_the_job": never;
  "page_frame.do_not_reload_this_page_without": never;
  "page_frame.this_browser_could_not_as": "then" | "what" | "why";
  "page_frame.a_later_question_came_first": never;
  "page_frame.the_plan": never;
  "page_frame.working": "doing";
  "page_frame.make_the_plan": never;
  "page_frame.make_the_plan_again": never;
  "page_frame.no_plan_yet_it_says_what": never;
  "page_frame.the_job_was_edited_since_this": never;
  "page_frame.made_in": "revision" | "seconds";
  "page_frame.stopped": never;
  "page_frame.not_possible_yet": never;
  "page_frame.the_jobs_file": never;
  "page_frame.the_file_is_behind": never;
  "page_frame.every_edit_is_safe_in_the": "since" | "why";
  "page_frame.the_jobs_file_caught_up_with": "caught_up";
  "page_frame.refused": never;
  "page_frame.not_taken": never;
  "page_frame.i_have_read_it": never;
  "page_frame.what_others_changed": never;
  "page_frame.somebody_else_changed_the_same_things": never;
  "page_frame.serious": never;
  "page_frame.to_be_mended": never;
  "page_frame.to_be_asked": never;
  "page_frame.asked_at_the_door_on_the": never;
  "page_frame.storey": "name";
  "page_frame.cable": never;
  "page_frame.what_the_record_lacks": never;
  "page_frame.serious_2": "serious";
  "page_frame.nothing_found": never;
  "page_frame.without_a_connection_the_house_is": never;
  "page_frame.finding": "n";
  "page_frame.show": "id" | "name";
  "page_frame.nothing_is_missing_or_contradicts_itself": never;
  "page_frame.refused_edit": "label" | "words";
  "page_handover.the_job_was_edited_since": never;
  "page_handover.made_of_edit": "revision";
  "page_handover.stopped": never;
  "page_handover.all_sheets_to_print_plans_schedule": never;
  "page_handover.labels_and_tape_strips_at_true": never;
  "page_handover.all_tables_for_a_spreadsheet_program": never;
  "page_handover.everything_as_one_page_to_leave": never;
  "page_handover.household": never;
  "page_handover.change_the_household": never;
  "page_handover.address": never;
  "page_handover.change_the_address": never;
  "page_handover.technician": never;
  "page_handover.change_the_technician": never;
  "page_handover.firm": never;
  "page_handover.change_the_firm": never;
  "page_handover.for_the_title_block": never;
  "page_handover.date_on_the_papers": never;
  "page_handover.change_the_date": never;
  "page_handover.paper": never;
  "page_handover.change_the_paper": never;
  "page_handover.papers": never;
  "page_handover.making_the_papers": "doing";
  "page_handover.make_them_again": never;
  "page_handover.make_the_papers": never;
  "page_handover.plan_sheets_schedules_labels_and_quote": never;
  "page_handover.more_single_drawings_and_tables": "n";
  "page_handover.the_record_that_stays_with_the": never;
  "page_handover.what_was_done_found_signed_and": never;
  "page_handover.making_the_record": "doing";
  "page_handover.make_it_again": never;
  "page_handover.make_the_record": never;
  "page_handover.save_the_record_and_photos": "size";
  "page_handover.the_job_itself": never;
  "page_handover.one_file_holds_all_of_it": never;
  "page_handover.save_the_job_as_a_file": never;
  "page_handover.for_the_record": never;
  "page_handover.where_the_record_is_kept": never;
  "page_handover.meter_cupboard": never;
  "page_house.nothing_stands_here_yet": never;
  "page_house.add_a_storey_then_draw_its": never;
  "page_house.add_the_first_storey": never;
  "page_house.add_a_storey_on_top": never;
  "page_house.storey_2": never;
  "page_house.beside_the_sheet": never;
  "page_house.panel": never;
  "page_house.put_in_a_house_that_was": never;
  "page_house.count_storeys": "n";
  "page_house.count_walls": "n";
  "page_house.count_doors": "n";
  "page_house.count_windows": "n";
  "page_house.count_rooms": "n";
  "page_house.rooms_by_tape": never;
  "page_house.one_thing_a_line_a_name": never;
  "page_house.read_the_rooms": never;
  "page_house.start_from_an_example": never;
  "page_house.a_house_from_a_file": never;
  "page_house.building_model_ifc_drawing_dxf_room": never;
  "page_house.reading": never;
  "page_house.was_read": never;
  "page_house.not_understood": never;
  "page_house.count_notes": "n";
  "page_house.the_walls_rooms_and_storeys_that": never;
  "page_house.put_it_in": never;
  "page_house.type_the_length_as_written_on": never;
  "page_house.a_plan_under_the_sheet": never;
  "page_house.pixels_m_wide": "height_px" | "width" | "width_px";
  "page_house.that_length_is_really": never;
  "page_house.set_the_scale": never;
  "page_house.set_its_scale_by_a_known": never;
  "page_house.move_it_by_dragging": never;
  "page_house.remove_it": never;
  "page_house.turn_degrees": never;
  "page_house.hide_it": never;
  "page_house.a_photo_or_scan_of_a": never;
  "page_house.page_of_a_pdf": never;
  "page_house.photo_scan_or_pdf": never;
  "page_house.show_picture": "picture";
  "page_house.change_storey": "name";
  "page_house.television_cable": never;
  "page_house.fibre": never;
  "page_house.wireless": never;
  "page_house.queue_not_known": never;
  "page_house.yes_by_router_or_modem": never;
  "page_house.no": never;
  "page_house.metres": never;
  "page_house.feet_and_inches": never;
  "page_house.storey_3": "name";
  "page_house.floor_to_ceiling": never;
  "page_house.finished_floor_above_the_lowest": never;
  "page_house.its_floor_is": never;
  "page_house.show_the_walls_of_below": "name";
  "page_house.align_over_by_a_corner_or": "name";
  "page_house.the_whole_house": never;
  "page_house.lengths_in": never;
  "page_house.change_the_units": never;
  "page_house.subscribed_rate_down_mb_s": never;
  "page_house.change_the_subscribed_rate": never;
  "page_house.subscribed_rate_up_mb_s": never;
  "page_house.the_line_is": never;
  "page_house.what_the_line_is": never;
  "page_house.its_queue_is_kept_short": never;
  "page_house.the_lines_queue": never;
  "page_house.delete_storey": "name";
  "page_house.delete_this_storey": never;
  "page_house.take_the_wall_tool_and_press": never;
  "page_house.drawing_tools": never;
  "page_house.type_a_length_like_3_81": never;
  "page_house.the_wall_being_drawn": never;
  "page_house.walls_made_of": never;
  "page_house.length_of_this_wall": never;
  "page_house.draw_it_that_long": never;
  "page_house.panel_things": never;
  "page_house.picture": never;
  "page_house.by_tape_or_file": never;
  "page_house.press_a_corner_or_stair_of": never;
  "page_house.press_one_end_of_a_length": never;
  "page_house.drag_the_picture_to_where_it": never;
  "page_house.storey_4": "id";
  "page_house.ground_floor": never;
  "page_house.add_a_storey": never;
  "page_house.a_route_has_two_points_at": never;
  "page_house.route_of": "run";
  "page_jobs.make_not_known": never;
  "page_jobs.doors_windows_gaps": never;
  "page_jobs.in": "kind" | "wall";
  "page_jobs.never_located": "kind";
  "page_jobs.meeting_points": never;
  "page_jobs.bodies": never;
  "page_jobs.route_drawn": "kind";
  "page_jobs.readings": never;
  "page_jobs.jobs_rehaul": never;
  "page_jobs.jobs": never;
  "page_jobs.you_are_everything_stays_on_this": "name";
  "page_jobs.edit": "revision";
  "page_jobs.no_job_yet": never;
  "page_jobs.begin_with_a_house_of_your": never;
  "page_jobs.files_that_are_no_jobs": never;
  "page_jobs.not_opened": never;
  "page_jobs.title_of_a_new_job": never;
  "page_jobs.n_12_any_street": never;
  "page_jobs.begin_a_new_job": never;
  "page_jobs.open_the_demo": never;
  "page_jobs.pair_this_device_again": never;
  "page_jobs.pair_this_device": never;
  "page_jobs.the_server_lets_this_device_in": never;
  "page_jobs.the_server_shows_a_one_time": never;
  "page_jobs.code": never;
  "page_jobs.your_name_as_the_others_will": never;
  "page_jobs.pair": never;
  "page_jobs.the_server_does_not_answer": never;
  "page_jobs.this_page_needs_it_once_to": never;
  "page_jobs.runs_then_try_again": never;
  "page_jobs.try_again": never;
  "page_meter.not_noted": never;
  "page_meter.a_device_not_listed": never;
  "page_meter.delay_nothing_else_going": never;
  "page_meter.down_round_of": "round" | "rounds";
  "page_meter.up_round_of": "round" | "rounds";
  "page_meter.stopped_after_full_round": "done";
  "page_meter.measured_done": never;
  "page_meter.measured_on_the_server_itself": never;
  "page_meter.readings_of": "room";
  "page_meter.saved_to_go_to_the_next": "room";
  "page_meter.stopped_the_page_was_put_aside": never;
  "page_meter.measures_the_way_from_this_device": "host" | "rounds" | "streams";
  "page_meter.this_page_is_open_on_the": never;
  "page_meter.make_a_code_for_another_device": never;
  "page_meter.the_server_must_have_been_started": never;
  "page_meter.a_reading_belongs_to_a_room": never;
  "page_meter.room_you_stand_in": never;
  "page_meter.choose_the_room": never;
  "page_meter.this_device": never;
  "page_meter.its_name": never;
  "page_meter.anns_phone": never;
  "page_meter.connected": never;
  "page_meter.over_the_air": never;
  "page_meter.by_cable": never;
  "page_meter.to_which_box": never;
  "page_meter.not_known": never;
  "page_meter.doors": never;
  "page_meter.doors_open": never;
  "page_meter.doors_shut": never;
  "page_meter.work_stage": never;
  "page_meter.before_it": never;
  "page_meter.during_it": never;
  "page_meter.after_it": never;
  "page_meter.how_far_it_is": never;
  "page_meter.measure_in": "name";
  "page_meter.choose_the_room_first": never;
  "page_meter.measured_in": "room";
  "page_meter.measured": never;
  "page_meter.save_to": "room";
  "page_meter.leave_it_out": never;
  "page_meter.what_the_server_limited_is_not": "room";
  "page_meter.there_is_nothing_to_save_run": never;
  "page_meter.the_server_was_the_limit_not": never;
  "page_meter.the_server_was_the_limit_not_2": never;
  "page_meter.the_median_of_round_the_interval": "count" | "sure_pct";
  "page_meter.the_median_of_round": "count";
  "page_meter.the_limit_lies_between_the_server": never;
  "page_meter.down": never;
  "page_meter.up": never;
  "page_meter.delay": never;
  "page_meter.delay_while_busy": never;
  "page_meter.link_rate": never;
  "page_meter.stage_before": never;
  "page_meter.stage_during": never;
  "page_meter.stage_after": never;
  "page_meter.drop_reading_of": "id" | "name";
  "page_meter.device": never;
  "page_meter.by_cable_2": never;
  "page_meter.drop_reading": "id";
  "page_meter.drop": never;
  "page_meter.no_reading_in_yet": "name";
  "page_meter.the_connection_broke_while_measuring": never;
  "page_meter.go_nearer_and_measure_again": never;
  "page_model.cut_low": never;
  "page_model.cut_at_the_plans_height": never;
  "page_model.full_height": never;
  "page_model.nothing_stands_yet": never;
  "page_model.storeys_are_stacked_here_as_soon": never;
  "page_model.storeys_shown": never;
  "page_model.storeys_apart": never;
  "page_model.m_more_than_they_stand": "apart_m";
  "page_model.cable_its_way_noted": never;
  "page_model.cable_ends_only_its_way_in": never;
  "page_model.access_point_of_the_plan": never;
  "page_model.storeys_are_drawn_m_farther_apart": "apart_m";
  "page_model.maps_are_being_computed": never;
  "page_model.the_same_in_words": never;
  "page_model.the_house_a_room_a_row": never;
  "page_model.boxes_and_access_points": never;
  "page_model.drawing": never;
  "page_model.this_browser_cannot_draw_in_three": never;
  "page_model.the_drawing_could_not_be_fetched": never;
  "page_model.drawing_of_the_house_to_be": never;
  "page_model.house_in_three_dimensions_storey_the": "n";
  "page_model.where_to_look_from": never;
  "page_model.from_corner": never;
  "page_model.from_above": never;
  "page_model.from_front": never;
  "page_model.turn_left": never;
  "page_model.turn_right": never;
  "page_model.look_from_higher": never;
  "page_model.look_from_lower": never;
  "page_model.all_of_it": never;
  "page_model.drag_to_turn_two_fingers_or": never;
  "page_parts.type_a_length_like": "example";
  "page_parts.at_least": "length";
  "page_parts.not_known": never;
  "page_parts.kilobytes": "n";
  "page_parts.megabytes": "n";
  "page_people.at_house": never;
  "page_people.at_cables": never;
  "page_people.at_coverage": never;
  "page_people.at_quote": never;
  "page_people.at_work": never;
  "page_people.at_tests": never;
  "page_people.at_handover": never;
  "page_people.at_model": never;
  "page_people.at_meter": never;
  "page_people.at_people": never;
  "page_people.let_in": never;
  "page_people.refused": never;
  "page_people.forgotten": never;
  "page_people.wrong_code": never;
  "page_people.limit_reached": never;
  "page_people.another_device": never;
  "page_people.let_another_device_in": never;
  "page_people.this_server_listens_on_this_machine": never;
  "page_people.to_let_a_tablet_in": never;
  "page_people.pairing_address_as_a_qr_code": never;
  "page_people.scan_it_or_open": never;
  "page_people.there_and_type": never;
  "page_people.for_one_device_within_minutes": "minutes";
  "page_people.another_code": never;
  "page_people.make_a_code": never;
  "page_people.on_this_job": never;
  "page_people.on_this_job_now": never;
  "page_people.on_this_device": never;
  "page_people.nobody_is_connected": never;
  "page_people.latest_from_the_others": never;
  "page_people.a_change": never;
  "page_people.devices": never;
  "page_people.devices_that_are_let_in": never;
  "page_people.person": never;
  "page_people.since": never;
  "page_people.now": never;
  "page_people.forget": never;
  "page_people.this_device": never;
  "page_people.is_here": never;
  "page_people.sign_out": never;
  "page_people.this_device_2": never;
  "page_people.the_device_of": "name";
  "page_people.what_happened_at_the_door": never;
  "page_people.who_was_let_in_refused_or": never;
  "page_people.time_utc": never;
  "page_people.what_is_read": never;
  "page_people.address": never;
  "page_people.details": never;
  "page_people.times": "times";
  "page_people.nothing_yet": never;
  "page_plan.select": never;
  "page_plan.press_a_thing_to_see_and": never;
  "page_plan.press_where_the_wall_starts_then": never;
  "page_plan.press_inside_walls_that_close_around": never;
  "page_plan.outside_area": never;
  "page_plan.press_in_the_garden_drive_or": never;
  "page_plan.door": never;
  "page_plan.press_on_a_wall": never;
  "page_plan.window": never;
  "page_plan.gap": never;
  "page_plan.press_on_a_wall_an_opening": never;
  "page_plan.press_where_the_plate_is_it": never;
  "page_plan.meeting_point": never;
  "page_plan.press_where_cables_meet": never;
  "page_plan.box": never;
  "page_plan.press_where_the_modem_router_or": never;
  "page_plan.body": never;
  "page_plan.press_where_a_fridge_bath_boiler": never;
  "page_plan.press_where_you_measured_then_type": never;
  "page_plan.cable_route": never;
  "page_plan.choose_a_cable_then_press_along": never;
  "page_plan.ask_a_spot": never;
  "page_plan.press_anywhere_to_see_what_gets": never;
  "page_plan.all_of_it": never;
  "page_plan.plan_sheet_of_arrow_keys_move": "name";
  "page_plan.a_storey": never;
  "page_plan.move": "id" | "kind";
  "page_plan.the_outline_would_cross_or_touch": never;
  "page_plan.delete": "id" | "kind";
  "page_plan.there_is_a_room_here_already": never;
  "page_plan.the_walls_do_not_close_here": never;
  "page_plan.room_number": "n";
  "page_plan.add_a_room": never;
  "page_plan.that_is_within_the_house_press": never;
  "page_plan.outside_number": "n";
  "page_plan.add_an_outside_area": never;
  "page_plan.add_one": "kind";
  "page_plan.add_with_id": "id" | "kind";
  "page_plan.closet": never;
  "page_plan.draw_a_wall": never;
  "page_plan.now_press_the_same_corner_or": never;
  "page_plan.now_press_the_other_end_of": never;
  "page_plan.align_a_storey": never;
  "page_plan.choose_the_cable_first_beside_the": never;
  "page_plan.a_room_has_three_corners_at": never;
  "page_plan.two_corners_cannot_be_in_one": never;
  "page_plan.the_outline_would_touch_itself_there": never;
  "page_plan.the_outline_would_cross_itself_there": never;
  "page_plan.the_room_would_have_no_area": never;
  "page_plan.right_up": "right" | "up";
  "page_plan.kind_wall": never;
  "page_plan.kind_opening": never;
  "page_plan.kind_room": never;
  "page_plan.kind_body": never;
  "page_plan.kind_outlet": never;
  "page_plan.kind_meeting_point": never;
  "page_plan.kind_box": never;
  "page_plan.kind_reading": never;
  "page_plan.kind_run": never;
  "page_quote.in_the_price": never;
  "page_quote.not_in_the_price": never;
  "page_quote.assumed": never;
  "page_quote.not_known_yet_and_priced": never;
  "page_quote.parts_labour_and_price_follow_from": never;
  "page_quote.labour_for_an_hour": "currency";
  "page_quote.as_in_the_table": never;
  "page_quote.labour_for_an_hour_2": never;
  "page_quote.margin": never;
  "page_quote.margin_2": never;
  "page_quote.tax": never;
  "page_quote.tax_2": never;
  "page_quote.spare_ports": never;
  "page_quote.battery_lasts_minutes": never;
  "page_quote.battery_time": never;
  "page_quote.new_cable": never;
  "page_quote.new_cable_may_be_pulled": never;
  "page_quote.proposed_change_see_under_accepted": "n";
  "page_quote.these_prices_are_invented_put_in": never;
  "page_quote.price": never;
  "page_quote.material": never;
  "page_quote.labour": never;
  "page_quote.total": never;
  "page_quote.not_above_in_nine_jobs_of": "days" | "deposit" | "total";
  "page_quote.offers": never;
  "page_quote.offer": never;
  "page_quote.access_points": never;
  "page_quote.nothing": never;
  "page_quote.part": never;
  "page_quote.used": never;
  "page_quote.spare": never;
  "page_quote.buy": never;
  "page_quote.unit": never;
  "page_quote.each": never;
  "page_quote.because_of": never;
  "page_quote.lengths_to_cut": never;
  "page_quote.piece": never;
  "page_quote.from": never;
  "page_quote.to": never;
  "page_quote.length_with_slack": never;
  "page_quote.task": never;
  "page_quote.visit": never;
  "page_quote.how_many": never;
  "page_quote.time": never;
  "page_quote.nine_in_ten": never;
  "page_quote.its_text_was_erased_with_the": never;
  "page_quote.altered_since_it_was_signed_the": never;
  "page_quote.steps_parts_and_price_are_kept": never;
  "page_quote.words_and_price_are_kept_as": never;
  "page_quote.a_later_one_has_taken_its": "kept";
  "page_quote.accepted_offers": never;
  "page_quote.accepted_by": never;
  "page_quote.what_stands": never;
  "page_quote.frozen_copy_sha_256": never;
  "page_quote.in_force": never;
  "page_quote.save": "id";
  "page_quote.save_its_plan": never;
  "page_quote.what_was_accepted_is_never_altered": never;
  "page_quote.what_a_new_plan_would_change": never;
  "page_quote.a_new_plan_would_change_this": never;
  "page_quote.proposed_and_not_in_force_before": never;
  "page_quote.a_new_plan_would_change_nothing": never;
  "page_quote.nothing_is_accepted_yet": never;
  "page_quote.accept_an_offer": never;
  "page_quote.day": never;
  "page_quote.freeze_as_accepted": never;
  "page_quote.the_job_was_edited_since_this": never;
  "page_quote.quoted": "words";
  "page_tests.quantity_down": never;
  "page_tests.quantity_up": never;
  "page_tests.quantity_power": never;
  "page_tests.quantity_delay": never;
  "page_tests.quantity_delay_under_load": never;
  "page_tests.quantity_link_rate": never;
  "page_tests.before_the_work": never;
  "page_tests.during": never;
  "page_tests.after": never;
  "page_tests.reading_in": "room";
  "page_tests.test_of": "id";
  "page_tests.accept": "about" | "result";
  "page_tests.what_would_settle_what_is_still": never;
  "page_tests.until_then": "costs" | "guess";
  "page_tests.readings_in_rooms": never;
  "page_tests.what_was_read": never;
  "page_tests.milliseconds": never;
  "page_tests.by_wire": never;
  "page_tests.add_the_reading": never;
  "page_tests.or_measure_with_this_device_on": never;
  "page_tests.rooms_before_and_after": never;
  "page_tests.down_by_room": never;
  "page_tests.read_before": never;
  "page_tests.promised": never;
  "page_tests.read_after": never;
  "page_tests.accepted_2": "name";
  "page_tests.sign": never;
  "page_tests.sign_for": "name";
  "page_tests.all_readings": "n";
  "page_tests.what_is_read": never;
  "page_tests.ghz": "band";
  "page_tests.by_wire_2": never;
  "page_tests.of_repeats": "repeats";
  "page_tests.delete_reading": "id";
  "page_tests.reading": "id";
  "page_tests.tests_of_cables": never;
  "page_tests.wire_map": never;
  "page_tests.link_that_came_up_mb_s": never;
  "page_tests.full_load_minutes": never;
  "page_tests.errors": never;
  "page_tests.loop_ohm": never;
  "page_tests.last_test": never;
  "page_tests.wire_map_of": "id";
  "page_tests.not_read": never;
  "page_tests.link_on": "id";
  "page_tests.not_tried": never;
  "page_tests.minutes_of_full_load_on": "id";
  "page_tests.errors_on": "id";
  "page_tests.loop_of_ohm": "id";
  "page_tests.no_cable_to_test_yet": never;
  "page_tests.add_cables": never;
  "page_tests.wire_map_of_2": "run";
  "page_tests.for_each_pin_here_the_pin": never;
  "page_tests.far_pin_of_pin": "pin";
  "page_tests.reported_split": "pair";
  "page_tests.what_does_it_mean": never;
  "page_tests.straight_through": never;
  "page_tests.either_end_may_be_at_fault": "why";
  "page_tests.open_the_end_first": "end" | "why";
  "page_tests.keep_it_with_cable": never;
  "page_tests.keep": never;
  "page_tests.span_and_need": "high" | "low" | "need";
  "page_thing.corners": never;
  "page_thing.corner_before": never;
  "page_thing.next_corner": never;
  "page_thing.corner_of": "corner" | "many";
  "page_thing.corners_2": "many";
  "page_thing.corner_from_the_left": never;
  "page_thing.corner_from_below": never;
  "page_thing.add_a_corner_after_it": never;
  "page_thing.take_this_corner_out": never;
  "page_thing.on_the_sheet_drag_a_square": never;
  "page_thing.opening": never;
  "page_thing.kind_body": never;
  "page_thing.meeting_point": never;
  "page_thing.kind_box": never;
  "page_thing.kind_reading": never;
  "page_thing.down_in_mbps": never;
  "page_thing.up_in_mbps": never;
  "page_thing.delay_ms": never;
  "page_thing.link_rate_mb_s": never;
  "page_thing.not_known": never;
  "page_thing.change": "id" | "kind";
  "page_thing.wall_by_its_length": "id";
  "page_thing.no_room": never;
  "page_thing.from_the_left": never;
  "page_thing.from_below": never;
  "page_thing.properties": never;
  "page_thing.made_of": never;
  "page_thing.thickness": never;
  "page_thing.as_made_mm": "thickness";
  "page_thing.height": never;
  "page_thing.to_the_ceiling": never;
  "page_thing.along_the_wall": never;
  "page_thing.slide": "id" | "kind";
  "page_thing.sill_above_the_floor": never;
  "page_thing.usually": never;
  "page_thing.usually_not_known": never;
  "page_thing.open": never;
  "page_thing.shut": never;
  "page_thing.name_used_everywhere": never;
  "page_thing.people_live_in_it": never;
  "page_thing.it_lies_outside_garden_drive_or": never;
  "page_thing.height_above_the_floor": never;
  "page_thing.what_stands_on_it": never;
  "page_thing.housed_in": never;
  "page_thing.mains_sockets_there": never;
  "page_thing.class_of_equipment": never;
  "page_thing.it_stays_when_the_new_network": never;
  "page_thing.where_the_service_enters": never;
  "page_thing.the_service_from_outside_enters_here": never;
  "page_thing.depth": never;
  "page_thing.what_is_read": never;
  "page_thing.on_which_box": never;
  "page_thing.box_not_known": never;
  "page_thing.split_wall": "id";
  "page_thing.split_in_the_middle": never;
  "page_thing.join_wall": "id";
  "page_thing.join_to_the_next_in_line": never;
  "page_thing.delete_the_room": never;
  "page_tracing.every_colour_at_both_ends": never;
  "page_tracing.all_but_t568a_or_t568b_is": never;
  "page_tracing.the_pair_not_which_wire_of": never;
  "page_tracing.only_which_two_are_twisted": never;
  "page_tracing.trust_nothing": never;
  "page_tracing.plug_in": "outlet";
  "page_tracing.type_the_conductors_that_beep_together": never;
  "page_tracing.pattern_at": "end";
  "page_tracing.write_down_what_was_traced": never;
  "page_tracing.pattern_round": "round" | "ties";
  "page_tracing.no_ties": never;
  "page_tracing.tone_from": "heard" | "outlet";
  "page_tracing.link_with": "outlet" | "rate";
  "page_tracing.no_light": never;
  "page_tracing.joined_with": "other";
  "page_tracing.not_joined_with": "other";
  "page_tracing.ohm": "conductors" | "ohm";
  "page_tracing.circuit_open": never;
  "page_tracing.tracing": never;
  "page_tracing.tracing_starts_where_cables_meet_put": never;
  "page_tracing.where_the_cables_meet": never;
  "page_tracing.people": never;
  "page_tracing.one_person": never;
  "page_tracing.two_people": never;
  "page_tracing.strap_plugs_in_the_bag": never;
  "page_tracing.colours_that_can_be_trusted": never;
  "page_tracing.this_device_is_with": never;
  "page_tracing.whoever_does_both": never;
  "page_tracing.the_one_who_walks_with_the": never;
  "page_tracing.the_one_who_reads_at": "name";
  "page_tracing.plan_the_tracing": never;
  "page_tracing.take_out_at_once_any_plug": "plugs";
  "page_tracing.left_alone": never;
  "page_tracing.left_alone_tie_nothing_tone_nothing": never;
  "page_tracing.next": never;
  "page_tracing.all_is_known_that_tracing_can": never;
  "page_tracing.with_the_plugs": never;
  "page_tracing.round": "number";
  "page_tracing.plug_out_of": "outlet";
  "page_tracing.plug": "name";
  "page_tracing.in_by": "by";
  "page_tracing.put_in": never;
  "page_tracing.how_the_plugs_are_made": never;
  "page_tracing.plug_2": "made" | "name";
  "page_tracing.never_located_and_still_looked_for": "outlets";
  "page_tracing.at": "name";
  "page_tracing.for_each_cable_type_which_conductors": never;
  "page_tracing.or_a_dash_where_none_do": never;
  "page_tracing.round_2": never;
  "page_tracing.goes_to": "places";
  "page_tracing.not_known_yet": never;
  "page_tracing.possible": "possible";
  "page_tracing.no_outlet": never;
  "page_tracing.left_alone_read_nothing_on_it": never;
  "page_tracing.read": never;
  "page_tracing.tone_or_link": never;
  "page_tracing.tone_at": "end" | "outlet";
  "page_tracing.link_at": "end" | "outlet";
  "page_tracing.a_link": never;
  "page_tracing.write_into_the_schedule_what_is": never;
  "page_tracing.reading_so_far": "n";
  "page_tracing.withdraw": "id";
  "page_tracing.was_a_mistake": never;
  "page_tracing.withdrawn": never;
  "page_tracing.who_depends_on_the_lines": never;
  "page_tracing.volts_on_every_pair": never;
  "page_tracing.does_a_modem_synchronise": never;
  "page_tracing.volts_measured": never;
  "page_tracing.line_taken_off_at_the_demarcation": never;
  "page_tracing.plate": "outlet";
  "page_tracing.all_at": "at";
  "page_tracing.a_modem_synchronises": never;
  "page_tracing.no_modem_synchronises": never;
  "page_tracing.nobody_depends_on_it": never;
  "page_tracing.about": never;
  "page_tracing.about_which_cable": "title";
  "page_tracing.every_cable_here": never;
  "page_tracing.cable": "id";
  "page_tracing.cable_between_plates": "id";
  "page_tracing.plate_2": "id";
  "page_tracing.highest_dc_v": never;
  "page_tracing.highest_ac_v": never;
  "page_tracing.record_the_volts": never;
  "page_tracing.a_voltage_found_may_be_recorded": never;
  "page_tracing.nobody_depends_on_the_lines": never;
  "page_tracing.nobody": never;
  "page_tracing.somebody_depends_on_a_line": never;
  "page_tracing.somebody_does": never;
  "page_tracing.no_modem_synchronises_2": never;
  "page_tracing.none_does": never;
  "page_tracing.a_modem_synchronises_2": never;
  "page_tracing.one_does": never;
  "page_tracing.whoever_does_is_entered_with_their": never;
  "page_tracing.line_checks": never;
  "page_tracing.before_anything_is_tied": never;
  "page_tracing.expect": "expect";
  "page_tracing.not_on_record_for": "runs";
  "page_tracing.cable_2": "because" | "run";
  "page_tracing.it_is_held_at_once": never;
  "page_tracing.note_as": "run" | "state";
  "page_tracing.take_the_line_off_while_you": never;
  "page_tracing.take_the_line_off": never;
  "page_tracing.the_occupant_who_agrees": never;
  "page_tracing.it_is_off_and_they_agreed": never;
  "page_tracing.measure_again_or_one_cable_or": never;
  "page_tracing.line_check_on_record": "n";
  "page_tracing.line_connected_again_and_tested": never;
  "page_tracing.give_the_line_back": never;
  "page_tracing.when_the_tracing_is_over_give": "at";
  "page_tracing.tested_with": never;
  "page_tracing.what_was_tested_dial_tone_or": never;
  "page_tracing.it_is_connected_and_works": never;
  "page_tracing.said_of": "what" | "where";
  "page_tracing.volts_dc": "v";
  "page_tracing.volts_ac": "v";
  "page_work.signed": "by" | "date" | "words";
  "page_work.signed_2": "by" | "date";
  "page_work.signed_by": never;
  "page_work.in_what_words_what_was_tested": never;
  "page_work.record_it": never;
  "page_work.at_the_door": never;
  "page_work.stage_before": never;
  "page_work.stage_trace": never;
  "page_work.stage_test": never;
  "page_work.stage_pull": never;
  "page_work.stage_terminate": never;
  "page_work.stage_rack": never;
  "page_work.stage_switch_on": never;
  "page_work.stage_prove": never;
  "page_work.asked_who_depends_on_an_alarm": never;
  "page_work.checked_whether_a_licence_is_needed": never;
  "page_work.lead_paint_to_be_expected": never;
  "page_work.asbestos_to_be_expected": never;
  "page_work.old_open_wiring_seen": never;
  "page_work.fire_rated_walls_or_floors_are": never;
  "page_work.the_landlord_agrees": never;
  "page_work.and_more": "n" | "names";
  "page_work.not_done_after_all": "title";
  "page_work.done_title": "title";
  "page_work.the_order_of_work_follows_from": never;
  "page_work.at_the_door_before_a_tool": never;
  "page_work.local_codes_and_licensed_trades_come": never;
  "page_work.at_the_door_2": "what";
  "page_work.a_new_plan_would_change_some": never;
  "page_work.of_steps_done": "done" | "n";
  "page_work.only_what_is_open": never;
  "page_work.steps_done": never;
  "page_work.visit": "visit";
  "page_work.by_the_household": never;
  "page_work.step_about": "n" | "time";
  "page_work.person": "person";
  "page_work.tools": "tools";
  "page_work.locked": never;
  "page_work.record_the_sign_off_under_cables": never;
  "page_work.after_steps": "waits";
  "page_work.ticked_off_although_this_was_open": "despite";
  "page_work.come_first_and_are_not_ticked": "waits";
  "page_work.comes_first_and_is_not_ticked": "waits";
  "page_work.done_all_the_same_and_note": never;
  "page_work.leave_it_open": never;
  "page_work.done_by": "by";
  "page_work.tick_it_off": never;
  "page_work.ticked_off_and_no_longer_in": never;
  "page_work.although_open": "despite";
  "page_work.sending": never;
  "page_work.photo_add_another": "n";
  "page_work.photograph_first": never;
  "page_work.photo_of": "number" | "title";
  "page_work.take_away": never;
  "page_work.photo_of_2": "number" | "title";
  "words.and": "first" | "last";
  "words.or": "first" | "last";
  "words.listed": "names";
  "words.joined": "parts";
  "words.in_turn": "parts";
  "words.sentences": "parts";
  "words.count_cables": "n";
  "words.number_0": never;
  "words.number_1": never;
  "words.number_2": never;
  "words.number_3": never;
  "words.source": "document" | "how" | "place";
  "words.source_of_edition": "document" | "edition" | "how" | "place";
};
