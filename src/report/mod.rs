//! Results to text: what is shown, in which unit, with how many digits.

mod bracing;
mod check_json;
mod check_text;
mod diagnostics;
mod drop_json;
mod drop_text;
mod drop_view;
mod drop_words;
pub mod figure;
mod first_sizes;
mod landing;
mod layout;
mod mount_json;
mod mount_remarks;
mod mount_text;
mod order_text;
mod order_words;
mod remarks;
mod spread_json;
mod spread_text;
mod tables;
mod theory;
mod verdict;
mod view;

pub use check_json::check_json;
pub use check_text::{Detail, check_text};
pub use diagnostics::render;
pub use drop_json::drop_json;
pub use drop_text::drop_text;
pub use first_sizes::{first_sizes_json, first_sizes_text};
pub use spread_json::spread_json;
pub use spread_text::spread_text;
pub use tables::{tables_json, tables_text};
