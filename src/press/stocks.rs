//! The stock cards are printed on: a built-in one, or a file.

use std::path::Path;

use super::{USUAL_STOCK, beside};
use crate::finding::{FileId, Finding, Place, Placed};
use crate::reader::nearest;
use crate::source::{self, LoadError, Source, reason};
use crate::stock::{self, Orientation, STOCK_UNUSABLE, Stock};

/// A built-in stock by its name, else by the path of a stock file.
pub fn stock_asked_for(
    asked: &str,
    turned: Option<Orientation>,
    sources: &mut Vec<Source>,
    findings: &mut Vec<Finding>,
) -> Option<Stock> {
    let loaded = match Stock::built_in(asked) {
        Some(source) => Ok(source),
        None => source::load(Path::new(asked)).map_err(said),
    };
    stock_of(loaded, asked, None, turned, sources, findings)
}

/// The stock a club names, its file looked for beside the club's; A6 without a name.
pub(super) fn stock_of_the_club(
    name: Option<&Placed<String>>,
    turned: Option<Orientation>,
    sources: &mut Vec<Source>,
    findings: &mut Vec<Finding>,
) -> Option<Stock> {
    let Some(name) = name else {
        return stock_asked_for(USUAL_STOCK, turned, sources, findings);
    };
    let loaded = match Stock::built_in(&name.value) {
        Some(source) => Ok(source),
        None => source::load(&beside(name, sources)).map_err(said),
    };
    stock_of(loaded, &name.value, Some(name.place), turned, sources, findings)
}

/// Why a file was not read, without its path: the finding names it.
pub(super) fn said(error: LoadError) -> String {
    match error {
        LoadError::Io { error, .. } => reason(&error),
        rejected => rejected.to_string(),
    }
}

fn stock_of(
    loaded: Result<Source, String>,
    asked: &str,
    place: Option<Place>,
    turned: Option<Orientation>,
    sources: &mut Vec<Source>,
    findings: &mut Vec<Finding>,
) -> Option<Stock> {
    match loaded {
        Ok(source) => {
            let stock = stock::read(&source, FileId(sources.len()), turned, findings);
            sources.push(source);
            stock
        }
        Err(reason) => {
            let names: Vec<&str> = Stock::names().collect();
            let near = nearest(asked, names.iter().copied());
            let finding = Finding::new(&STOCK_UNUSABLE, format!("there is no stock \"{asked}\""));
            let finding = match place {
                Some(place) => finding.label(place, reason),
                None => finding.help(reason),
            };
            let finding = match near {
                Some(near) => finding.help(format!("did you mean \"{near}\"?")),
                None => finding,
            };
            let help = format!("stocks at hand: {}; or name a stock file", names.join(", "));
            findings.push(finding.help(help));
            None
        }
    }
}
