//! `deckcard stocks [FILE…]`, and the arguments that choose a stock.

use serde_json::Value;

use super::reporter::Reporter;
use super::{Format, Refusal, answer};
use crate::finding;
use crate::press::{self, Wishes};
use crate::report::stocks;
use crate::stock::Stock;

/// Arguments of `stocks`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Stock files of your own to check and list; all that come with the program without one
    #[arg(value_parser = super::arguments::stock)]
    files: Vec<String>,
    /// Print JSON
    #[arg(long)]
    json: bool,
    /// How findings are shown on standard error
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// The stock asked for on the command line, before the club's.
#[derive(Debug, clap::Args)]
pub(super) struct OnStock {
    /// Print on this stock: a name that `stocks` lists, or a stock file
    #[arg(long, value_name = "NAME|FILE", value_parser = super::arguments::stock)]
    pub stock: Option<String>,
    /// Print with the long edge across
    #[arg(long)]
    pub landscape: bool,
}

impl OnStock {
    /// These as wishes, with or without a back.
    pub fn wishes(&self, back: bool) -> Wishes {
        Wishes { stock: self.stock.clone(), landscape: self.landscape, back }
    }
}

/// Lists the stocks.
pub(super) fn run(arguments: &Arguments, reporter: &mut Reporter) -> Result<(), Refusal> {
    let mut listed = Vec::new();
    let asked: Vec<&str> = match arguments.files.is_empty() {
        true => Stock::names().collect(),
        false => arguments.files.iter().map(String::as_str).collect(),
    };
    for name in asked {
        let (mut sources, mut findings) = (Vec::new(), Vec::new());
        let stock = press::stock_asked_for(name, None, &mut sources, &mut findings);
        findings.extend(stock.as_ref().and_then(press::try_stock));
        finding::in_file_order(&mut findings);
        reporter.report(&findings, &sources);
        listed.extend(stock.map(|stock| (name.to_owned(), stock)));
    }
    if arguments.json {
        let objects: Vec<Value> =
            listed.iter().map(|(name, stock)| stocks::json(name, stock)).collect();
        answer::json(&Value::from(objects))
    } else {
        answer::page(&match listed.is_empty() {
            true => String::new(),
            false => stocks::table(&listed),
        })
    }
}
