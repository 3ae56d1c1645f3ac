//! The material tables as text for people and as JSON.

mod json;
mod text;

pub use json::tables_json;
pub use text::tables_text;

use crate::material::{Kind, Library};

/// What a kind of table lists, in words.
const fn contents(kind: Kind) -> &'static str {
    match kind {
        Kind::Metals => "sheet and plate by alloy, temper and thickness",
        Kind::Wires => "brace wires and cables",
        Kind::WireEnds => "ways to end a wire, and what each holds",
        Kind::Axles => "metals for axles",
        Kind::Bolts => "bolt classes and threads",
        Kind::Woods => "plywood and wood for mounts",
        Kind::Stock => "sizes that shops keep",
        Kind::Arrivals => "pilots' words for a landing, and their sink rates",
    }
}

/// How many rows a kind of table has.
fn row_count(library: &Library, kind: Kind) -> usize {
    match kind {
        Kind::Metals => library.metals.len(),
        Kind::Wires => library.wires.len() + library.constructions.len(),
        Kind::WireEnds => library.wire_ends.len(),
        Kind::Axles => library.axles.len(),
        Kind::Bolts => library.bolt_classes.len() + library.threads.len(),
        Kind::Woods => library.woods.len(),
        Kind::Stock => library.stock.len(),
        Kind::Arrivals => library.arrivals.len(),
    }
}
