//! The search for sizes against brute force, closed forms, and what a file wishes.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that can't go on says so"
)]

#[path = "../common/mod.rs"]
mod common;

mod brute;
mod card;
mod chance;
mod open;
mod optimum;
mod shop;
mod wishes;
