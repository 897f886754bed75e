"""Radio in a house: layers to the loss of a crossing, crossings to paths, paths to a field."""

from rehaul.radio.antenna import Transmitter, peak_gain_dbi
from rehaul.radio.band import FrequencyBand
from rehaul.radio.counts import crossing_counts
from rehaul.radio.diffuse import DiffuseRoom
from rehaul.radio.easing import eased_counts
from rehaul.radio.grid import Cells, Grid, grid_over
from rehaul.radio.layers import Guess, LayeredKind, Measured, Mixture, SlabLayer, Stack, Structure, kind
from rehaul.radio.link import Holding, downlink_dbm, holding_loss_db, uplink_dbm
from rehaul.radio.losstable import LossTable, loss_table
from rehaul.radio.pierced import Crossing, crossings
from rehaul.radio.power_field import Field, field, field_at, fields
from rehaul.radio.scene import Bulk, Plate, Scene, box_panels, plate
from rehaul.radio.slab import reflection_loss_db, transmission_loss_db
from rehaul.radio.solve import Level
from rehaul.radio.uncertainty import probability_of, shadowing_sd_db

__all__ = [
    "Bulk",
    "Cells",
    "Crossing",
    "DiffuseRoom",
    "Field",
    "FrequencyBand",
    "Grid",
    "Guess",
    "Holding",
    "LayeredKind",
    "Level",
    "LossTable",
    "Measured",
    "Mixture",
    "Plate",
    "Scene",
    "SlabLayer",
    "Stack",
    "Structure",
    "Transmitter",
    "box_panels",
    "crossing_counts",
    "crossings",
    "downlink_dbm",
    "eased_counts",
    "field",
    "field_at",
    "fields",
    "grid_over",
    "holding_loss_db",
    "kind",
    "loss_table",
    "peak_gain_dbi",
    "plate",
    "probability_of",
    "reflection_loss_db",
    "shadowing_sd_db",
    "transmission_loss_db",
    "uplink_dbm",
]
