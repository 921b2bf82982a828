//! The tests from the outside: files in, cards, tables and findings out.

mod command;
mod demos;
mod reading;
mod reckoned;
mod strange_input;
