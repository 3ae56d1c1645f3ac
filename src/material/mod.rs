//! Materials and bought parts: typed rows in which every value carries its basis and its source.

mod axle;
mod library;
mod metal;
mod provenance;
mod shop;
mod thread;
mod wire;
mod wood;

pub use axle::AxleMetal;
pub use library::{Kind, Library, NameTaken, NotFound};
pub use metal::{Family, Metal, MetalBand};
pub use provenance::{Basis, Sourced};
pub use shop::{Arrival, Stock, StockForm, System};
pub use thread::{BoltClass, Series, Thread};
pub use wire::{EndEfficiency, PowerBand, Wire, WireEnd, WireRangeError, WireStrength};
pub use wood::{Wood, WoodBand};
