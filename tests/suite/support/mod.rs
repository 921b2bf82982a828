//! Shared by the tests of the paper side.
#![allow(dead_code, reason = "each test binary uses a part of it")]

pub mod documents;
pub mod extreme;
pub mod marked;
pub mod operators;
pub mod pictures;
pub mod plans;
pub mod reader;
