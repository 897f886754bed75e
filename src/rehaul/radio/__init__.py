"""Radio in a house: layers to the loss of a crossing, crossings to paths, paths to a field."""

from rehaul.radio.antenna import Transmitter
from rehaul.radio.band import FrequencyBand
from rehaul.radio.counts import crossing_counts
from rehaul.radio.diffuse import DiffuseRoom
from rehaul.radio.easing import eased_counts
from rehaul.radio.grid import Cells, Grid, grid_over
from rehaul.radio.layers import Guess, LayeredKind, Measured, Mixture, SlabLayer, Stack, Structure, kind
from rehaul.radio.link import Holding, downlink_dbm, holding_loss_db
from rehaul.radio.losstable import LossTable, loss_table
from rehaul.radio.pierced import Crossing, crossings
from rehaul.radio.power_field import Field, field, field_at, fields
from rehaul.radio.scene import Bulk, Plate, Scene, plate
from rehaul.radio.solve import Level
from rehaul.radio.uncertainty import shadowing_sd_db

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
    "plate",
    "shadowing_sd_db",
]
