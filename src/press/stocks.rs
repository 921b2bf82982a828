//! The stock cards are printed on: a built-in one, or a file.

use std::path::Path;

use super::ordinary::too_small;
use super::{USUAL_LANGUAGE, USUAL_STOCK, beside};
use crate::finding::{FileId, Finding, Place, Placed};
use crate::reader::nearest;
use crate::source::{self, LoadError, Source, reason};
use crate::stock::{self, Orientation, STOCK_UNUSABLE, Stock};
use crate::words::Words;

/// A built-in stock by its name, else by the path of a stock file.
pub fn stock_asked_for(
    asked: &str,
    turned: Option<Orientation>,
    sources: &mut Vec<Source>,
    findings: &mut Vec<Finding>,
) -> Option<Stock> {
    stock_of(asked, Path::new(asked), None, turned, sources, findings)
}

/// What is wrong with a stock of the coach's own, tried with an ordinary session.
pub fn try_stock(stock: &Stock) -> Option<Finding> {
    too_small(stock, &Words::named(USUAL_LANGUAGE)?.ok()?)
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
    let path = beside(name, sources);
    stock_of(&name.value, &path, Some(name.place), turned, sources, findings)
}

/// Why a file was not read, without its path: the finding names it.
pub(super) fn why(error: LoadError) -> String {
    match error {
        LoadError::Io { error, .. } => reason(&error),
        rejected => rejected.to_string(),
    }
}

/// The stock called `asked`, or in the file at `path`; `place` is where it is named.
fn stock_of(
    asked: &str,
    path: &Path,
    place: Option<Place>,
    turned: Option<Orientation>,
    sources: &mut Vec<Source>,
    findings: &mut Vec<Finding>,
) -> Option<Stock> {
    let built_in = Stock::built_in(asked);
    // The file of a stock that comes with the program is none the coach could change.
    let is_own = built_in.is_none();
    match built_in.map_or_else(|| source::file(path).map_err(why), Ok) {
        Ok(source) => {
            let stock = stock::read(&source, FileId(sources.len()), turned, findings);
            sources.push(source);
            stock.map(|stock| Stock {
                reading_place: stock.reading_place.filter(|_| is_own),
                ..stock
            })
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
            let help = format!("stocks: {}; or name a stock file", names.join(", "));
            findings.push(finding.help(help));
            None
        }
    }
}
