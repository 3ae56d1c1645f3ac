//! Results to text: what is shown, in which unit, with how many digits.

mod bracing;
mod check_json;
mod check_text;
mod compare_json;
mod compare_text;
mod compare_words;
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
mod tables;
mod theory;
mod verdict;
mod view;

pub use check_json::check_json;
pub use check_text::{Detail, check_text};
pub use compare_json::compare_json;
pub use compare_text::compare_text;
pub use diagnostics::render;
pub use drop_json::drop_json;
pub use drop_text::drop_text;
pub use first_sizes::{first_sizes_json, first_sizes_text};
pub use tables::{tables_json, tables_text};
