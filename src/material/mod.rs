//! Materials and bought parts: typed rows in which every value carries its basis and its source.

mod axle;
mod embedment;
mod library;
mod metal;
pub(crate) mod near;
mod provenance;
mod shop;
mod thread;
mod wire;
mod wood;

pub use axle::AxleMetal;
pub use embedment::{
    CHARACTERISTIC_OF_MEAN_DENSITY, bolt_yield_moment, plywood_embedment_of_bolts,
    plywood_embedment_of_nails, timber_across_grain, timber_embedment,
};
pub use library::{CounterName, Kind, Library, NameTaken, NotFound, TableRow};
pub use metal::{Family, FamilyConstants, Metal, MetalBand, Tested};
pub use provenance::{Basis, Sourced};
pub use shop::{Arrival, SOLD_CLASSES, Stock, StockForm, System};
pub use thread::{BoltClass, OtherState, SHEAR_OF_TENSILE, Series, Thread, captive_nut_strength};
pub use wire::{
    Construction, EndEfficiency, PowerBand, Wire, WireEnd, WireForm, WireRangeError, WireStrength,
};
pub use wood::{Wood, WoodBand};
