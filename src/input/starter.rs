//! The project file that `gearleg new` writes.

/// A commented project of a survey aeroplane that is accepted as it stands and explains every key.
pub const STARTER: &str = include_str!("starter.toml");
