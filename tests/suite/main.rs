//! The tests from the outside: files in, cards, tables and findings out.

mod card_laws;
mod card_lists;
mod card_pieces;
mod command;
mod demos;
mod every_stock;
mod findings;
mod fit;
mod fit_command;
mod invented;
mod lanes_command;
mod mutations;
mod outside;
mod pace;
mod pdf_read_back;
mod print;
mod reading;
mod reckoned;
mod recut;
mod schema;
mod show;
mod stocks;
mod strange_input;
mod support;
mod words;
