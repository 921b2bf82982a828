//! What a session needs to be printed beside its plan: stock, words, badge, cautions.

mod rules;

use std::fs;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use xxhash_rust::xxh3::xxh3_128;

pub use rules::RULES;

use crate::card::badge::{Badge, BadgeError};
use crate::card::stock::{Stock, StockError};
use crate::card::words::Words;
use crate::card::{Card, Composed, Extras, Fault, compose};
use crate::check::{CheckedSession, wording};
use crate::finding::{Finding, Place, Placed};
use crate::measure::{LIMITS, Pool};
use crate::paint::pdf::{Made, Meta};
use crate::plan::Plan;
use crate::plan::Version;
use crate::source::{Source, reason};

/// The stock cards are printed on unless the club says otherwise.
pub const USUAL_STOCK: &str = "a6";

/// The language of the card's own words unless a file says otherwise.
pub const USUAL_LANGUAGE: &str = "en";

/// One session made ready to print.
#[derive(Debug)]
pub struct Press<'a> {
    session: &'a CheckedSession,
    stock: Stock,
    words: Words,
    extras: Extras,
}

impl<'a> Press<'a> {
    /// Makes a session ready; `None`, and findings, where something it names cannot be used.
    pub fn set_up(
        session: &'a CheckedSession,
        sources: &[Source],
        findings: &mut Vec<Finding>,
    ) -> Option<Self> {
        let before = findings.len();
        let club = session.club.as_ref();
        let stock = stock(club.and_then(|club| club.stock.as_ref()), sources, findings);
        let badge = club
            .and_then(|club| club.badge.as_ref())
            .and_then(|name| badge(name, sources, findings));
        let words = words(session.language.as_ref(), findings);
        if findings.len() > before {
            return None;
        }
        let extras = Extras { badge, cautions: wording::cautions(session) };
        Some(Self { session, stock: stock?, words: words?, extras })
    }

    /// The cards of one version: each lane's, or the session's own.
    pub fn cards(&self, version: &Version, findings: &mut Vec<Finding>) -> Vec<Card> {
        let mut cards = Vec::new();
        for plan in version.printed() {
            let composed = compose(plan, &self.extras, &self.stock, &self.words);
            findings.extend(self.faults(plan, &composed));
            cards.extend(composed.cards);
        }
        cards
    }

    /// What a PDF of the session for `pool` says about itself.
    pub fn meta(&self, pool: Pool) -> Meta {
        Meta {
            title: format!("{}, {pool}", self.session.title.value),
            language: self.words.language.clone(),
            made: self.session.date.map(Made::on),
        }
    }

    fn faults(&self, plan: &Plan, composed: &Composed) -> Vec<Finding> {
        let title = plan.title.place;
        composed.faults.iter().map(|fault| told(fault, plan, title)).collect()
    }
}

fn told(fault: &Fault, plan: &Plan, title: Place) -> Finding {
    match fault {
        Fault::DoesNotFit { place } => {
            Finding::new(&rules::DOES_NOT_FIT, "this does not fit on a card, even in small type")
                .label(place.unwrap_or(title), "")
                .help("shorten the text, or print on a larger stock")
        }
        Fault::BelowReadingSize { percent } => Finding::new(
            &rules::TYPE_TOO_SMALL,
            format!("type is at {percent} % of the size the stock's reading distance asks for"),
        )
        .label(title, format!("in the {} version", plan.pool))
        .help("shorten the longest cue, or print on a larger stock"),
        Fault::MissingGlyphs { characters, place } => {
            let list: Vec<String> = characters.iter().map(|c| format!("\"{c}\"")).collect();
            Finding::new(
                &rules::GLYPH_MISSING,
                format!("no font on the card has the sign {}", list.join(", ")),
            )
            .label(*place, "")
            .help("write it in letters")
        }
    }
}

/// The card's own words in the language asked for; English without a wish.
fn words(language: Option<&Placed<String>>, findings: &mut Vec<Finding>) -> Option<Words> {
    let tag = language.map_or(USUAL_LANGUAGE, |language| &language.value);
    let words = Words::named(tag).and_then(Result::ok);
    if words.is_none() {
        let tags: Vec<&str> = Words::tags().collect();
        let finding = Finding::new(
            &rules::LANGUAGE_UNKNOWN,
            format!("there are no words for a card in the language \"{tag}\""),
        );
        let finding = match language {
            Some(language) => finding.label(language.place, ""),
            None => finding,
        };
        findings.push(finding.help(format!("languages at hand: {}", tags.join(", "))));
    }
    words
}

/// A name beside the file that names it.
fn beside(name: &Placed<String>, sources: &[Source]) -> PathBuf {
    let folder = sources.get(name.place.file.0).map(Source::folder).unwrap_or_default();
    folder.join(&name.value)
}

/// A stock by the name of a built-in one, else by the path of a stock file.
fn stock(
    name: Option<&Placed<String>>,
    sources: &[Source],
    findings: &mut Vec<Finding>,
) -> Option<Stock> {
    let asked = name.map_or(USUAL_STOCK, |name| &name.value);
    let result = Stock::named(asked).unwrap_or_else(|| match name {
        Some(name) => match fs::read_to_string(beside(name, sources)) {
            Ok(text) => Stock::read(&text),
            Err(error) => Err(StockError::Unreadable(reason(&error))),
        },
        None => Err(StockError::Unreadable(format!("there is no stock {asked}"))),
    });
    result
        .map_err(|error| {
            let finding = Finding::new(
                &rules::STOCK_UNUSABLE,
                format!("the stock \"{asked}\" cannot be used"),
            );
            let names: Vec<&str> = Stock::names().collect();
            let help = format!("stocks at hand: {}; or name a stock file", names.join(", "));
            findings.push(match name {
                Some(name) => finding.label(name.place, error.to_string()).help(help),
                None => finding.help(help),
            });
        })
        .ok()
}

/// Badges read in this run, by a hash of their files: a club's sessions share one.
static BADGES: Mutex<Vec<(u128, Arc<Badge>)>> = Mutex::new(Vec::new());
/// A run over many clubs forgets the oldest.
const MOST_BADGES: usize = 16;

/// The badge in a file, decoded once a run.
fn read_badge(bytes: &[u8]) -> Result<Arc<Badge>, BadgeError> {
    // A panic elsewhere leaves whole badges behind, or none.
    let known = || BADGES.lock().unwrap_or_else(PoisonError::into_inner);
    let key = xxh3_128(bytes);
    if let Some((_, badge)) = known().iter().find(|(own, _)| *own == key) {
        return Ok(badge.clone());
    }
    let badge = Arc::new(Badge::read(bytes)?);
    let mut all = known();
    if all.len() >= MOST_BADGES {
        all.remove(0);
    }
    all.push((key, badge.clone()));
    Ok(badge)
}

fn badge(
    name: &Placed<String>,
    sources: &[Source],
    findings: &mut Vec<Finding>,
) -> Option<Arc<Badge>> {
    let unreadable = |reason: String| {
        Finding::new(
            &rules::BADGE_UNREADABLE,
            format!("the badge \"{}\" cannot be read", name.value),
        )
        .label(name.place, reason)
        .help("a badge is a PNG or JPEG file, named relative to the club file")
    };
    let path = beside(name, sources);
    let read = || -> Result<Arc<Badge>, String> {
        let size = fs::metadata(&path).map_err(|error| reason(&error))?.len();
        if !LIMITS.badge_bytes.holds(size) {
            return Err(BadgeError::TooManyBytes.to_string());
        }
        let bytes = fs::read(&path).map_err(|error| reason(&error))?;
        read_badge(&bytes).map_err(|error| error.to_string())
    };
    read().map_err(|reason| findings.push(unreadable(reason))).ok()
}
