//! The tests from the outside: files in, cards, tables and findings out.

mod batch;
mod card_laws;
mod command;
mod demos;
mod every_stock;
mod findings;
mod fit;
mod invented;
mod mutations;
mod outside;
mod pdf_read_back;
mod pdf_tags;
mod print;
mod reading;
mod reckoned;
mod recut;
mod schema;
mod strange_input;
mod support;
