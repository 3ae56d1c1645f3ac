//! The unknown-metal desk: how often its lower value keeps its word, and what builders and books know of shop tests.

#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test that can't go on should stop"
)]

mod calibration;
mod drops;
mod knowledge;
mod misfits;
mod sheets;
