//! The tests from the outside: files in, cards, tables and findings out.

mod advice;
mod batch;
mod binder;
mod blocks;
mod card_laws;
mod card_lists;
mod card_pieces;
mod cautions;
mod command;
mod contact_sheet;
mod demos;
mod drafts;
mod every_stock;
mod findings;
mod fit;
mod fit_command;
mod fixes;
mod folders;
mod guarantees;
mod handout;
mod invented;
mod lanes_command;
mod mistakes;
mod mutations;
mod notes;
mod ordinary;
mod outside;
mod pace;
mod pdf_codes;
mod pdf_read_back;
mod pdf_tags;
mod pictures;
mod preview;
mod print;
mod reading;
mod readme;
mod reckoned;
mod recut;
mod recut_cases;
mod reference;
mod schema;
mod sheets;
mod show;
mod stages;
mod stocks;
mod strange_input;
#[cfg(unix)]
mod streams;
mod support;
#[cfg(unix)]
mod terminal;
mod wished;
mod words;
#[cfg(unix)]
mod writing;
mod wrong_use;
