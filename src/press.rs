//! The press: a session set up to be printed, with what it needs besides its plan.
//!
//! Stock, words and badge are found and read here, by what the session and its club file name
//! and by what was asked for on the command line. The cards then are the card stage's; what it
//! could not do becomes findings here.

mod badges;
mod cues;
mod ordinary;
mod rules;
mod stocks;

use std::path::PathBuf;

use badges::badge;
pub use rules::RULES;
pub use stocks::{stock_asked_for, try_stock};
use stocks::{stock_of_the_club, why};

use crate::card::{Composed, Extras, Fault, back, compose};
use crate::check::{CheckedSession, wording};
use crate::drawing::Card;
use crate::finding::{FileId, Finding, Place, Placed};
use crate::measure::Pool;
use crate::paint::pdf::{Made, Meta};
use crate::plan::{Plan, Version};
use crate::sheet::{self, Dimensions, Faces};
use crate::source::{self, Source};
use crate::stock::{Orientation, Stock};
use crate::typeset::face::sign_text;
use crate::typeset::{GLYPH_MISSING, LETTERS};
use crate::words::{self, Words};

/// The stock cards are printed on unless the club says otherwise.
pub const USUAL_STOCK: &str = "a6";

/// The language of the card's own words unless a file says otherwise.
pub const USUAL_LANGUAGE: &str = "en";

/// What was asked for on the command line, before what the files say.
#[derive(Clone, Debug, Default)]
pub struct Wishes {
    /// A stock: a built-in name, or the path of a stock file.
    pub stock: Option<String>,
    /// Whether cards are printed with the long edge across.
    pub landscape: bool,
    /// Whether a page of lines to write on is printed for the back.
    pub back: bool,
}

impl Wishes {
    /// The way up asked for, if one was.
    pub fn turned(&self) -> Option<Orientation> {
        self.landscape.then_some(Orientation::Landscape)
    }
}

/// A session with all that its cards are printed with.
#[derive(Debug)]
pub struct Press<'a> {
    session: &'a CheckedSession,
    stock: Stock,
    words: Words,
    extras: Extras,
}

impl<'a> Press<'a> {
    /// Sets the press up; `None`, and findings, where something the session names cannot be used.
    /// Files read on the way join `sources`, for findings point into them.
    pub fn set_up(
        session: &'a CheckedSession,
        sources: &mut Vec<Source>,
        wishes: &Wishes,
        findings: &mut Vec<Finding>,
    ) -> Option<Self> {
        let before = findings.len();
        let club = session.club.as_ref();
        let stock = match &wishes.stock {
            Some(asked) => stock_asked_for(asked, wishes.turned(), sources, findings),
            None => {
                let named = club.and_then(|club| club.stock.as_ref());
                stock_of_the_club(named, wishes.turned(), sources, findings)
            }
        };
        let grey = club.and_then(|club| club.badge_grey.as_ref()).is_some_and(|grey| grey.value);
        let badge = club
            .and_then(|club| club.badge.as_ref())
            .and_then(|name| badge(name, grey, sources, findings));
        let words = words(session.language.as_ref(), sources, findings);
        if findings.len() > before {
            return None;
        }
        let mut stock = stock?;
        stock.back |= wishes.back;
        let extras = Extras { badge, cautions: wording::cautions(session) };
        Some(Self { session, stock, words: words?, extras })
    }

    /// The stock the cards are printed on.
    pub fn stock(&self) -> &Stock {
        &self.stock
    }

    /// The same session on another stock.
    pub fn on(&self, stock: Stock) -> Press<'a> {
        let (words, extras) = (self.words.clone(), self.extras.clone());
        Press { session: self.session, stock, words, extras }
    }

    /// The language of the card's own words, where no coach who speaks it has read them over.
    pub fn unreviewed_language(&self) -> Option<&str> {
        (!self.words.reviewed).then_some(self.words.language.as_str())
    }

    /// The words its cards are printed in.
    pub fn words(&self) -> &Words {
        &self.words
    }

    /// Its badge and cautions.
    pub fn extras(&self) -> &Extras {
        &self.extras
    }

    /// The cards of one version: each lane's, or the session's own; behind each lane's the
    /// back, where the stock has one.
    pub fn cards(&self, version: &Version, findings: &mut Vec<Finding>) -> Vec<Card> {
        version.printed().iter().flat_map(|plan| self.cards_of(plan, findings)).collect()
    }

    /// The cards of one version to be cut out, those of `back` behind them, lane by lane.
    ///
    /// A page of lines for the back is a card of its own at the end of its lane's: what lies
    /// behind a card on a sheet is the other pool's.
    pub fn faces(
        &self,
        front: &Version,
        back: Option<&Version>,
        findings: &mut Vec<Finding>,
    ) -> Vec<Faces> {
        let (width, height) = self.stock.edges();
        let size = Dimensions { width, height };
        let mut faces = Vec::new();
        for (index, plan) in front.printed().iter().enumerate() {
            let fronts = self.cards_of(plan, findings);
            // Both versions have the lanes of the one session.
            let behind = back.and_then(|back| back.printed().get(index));
            let backs = behind.map(|plan| self.backs_of(plan, fronts.len(), findings));
            faces.extend(sheet::pair(fronts, backs.unwrap_or_default(), size));
            faces.extend(self.lines(plan).map(|card| Faces::single(card, size)));
        }
        faces
    }

    /// The page of lines, where the stock has one.
    fn lines(&self, plan: &Plan) -> Option<Card> {
        self.stock.back.then(|| back(plan, &self.stock, &self.words))
    }

    fn cards_of(&self, plan: &Plan, findings: &mut Vec<Finding>) -> Vec<Card> {
        let composed = self.composed(plan);
        findings.extend(self.faults(plan, &composed));
        findings.extend(cues::contradicted(self.session, plan));
        composed.cards
    }

    /// A plan's cards where the first `behind` are printed on backs, on which holes lie on the
    /// other side.
    fn backs_of(&self, plan: &Plan, behind: usize, findings: &mut Vec<Finding>) -> Vec<Card> {
        let mut cards = self.cards_of(plan, findings);
        if !self.stock.holes.is_empty() {
            let stock = self.stock.behind();
            let mirrored = compose(plan, &self.extras, &stock, &self.words).cards;
            for (card, mirrored) in cards.iter_mut().zip(mirrored).take(behind) {
                *card = mirrored;
            }
        }
        cards
    }

    /// A plan set on the stock.
    pub fn composed(&self, plan: &Plan) -> Composed {
        compose(plan, &self.extras, &self.stock, &self.words)
    }

    /// What a PDF of the session for these pools says about itself.
    pub fn meta(&self, pools: &[Pool]) -> Meta {
        let pools: Vec<String> = pools.iter().map(Pool::to_string).collect();
        Meta {
            title: format!("{}, {}", self.session.title.value, pools.join(" / ")),
            language: self.words.language.clone(),
            made: self.session.date.map(Made::on),
        }
    }

    fn faults(&self, plan: &Plan, composed: &Composed) -> Vec<Finding> {
        let title = plan.title.place;
        let finding = |fault: &Fault| {
            let finding = finding_of(fault, plan, title);
            match self.stock.reading_place.filter(|_| fault.is_of_size()) {
                Some(place) => finding.label(place, "or have it read from nearer"),
                None => finding,
            }
        };
        let faults = &composed.faults;
        let of_stock =
            faults.iter().any(Fault::is_of_size).then(|| self.stock_too_small()).flatten();
        let Some(of_stock) = of_stock else { return faults.iter().map(finding).collect() };
        // Once at the stock, whatever it does to the sets of a session; but a set that is left out
        // is no matter of smaller type.
        let is_said = |fault: &Fault| match of_stock.is_error() {
            true => fault.is_of_size(),
            false => fault.is_of_size() && !fault.leaves_out(),
        };
        let others: Vec<Finding> =
            faults.iter().filter(|fault| !is_said(fault)).map(finding).collect();
        std::iter::once(of_stock).chain(others).collect()
    }

    /// What is wrong with a stock of the coach's own that does not even hold an ordinary session.
    pub fn stock_too_small(&self) -> Option<Finding> {
        ordinary::too_small(&self.stock, &self.words)
    }
}

/// A fault of the layout as a finding.
pub(crate) fn finding_of(fault: &Fault, plan: &Plan, title: Place) -> Finding {
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
            let list: Vec<String> = characters.iter().map(|c| sign_text(*c)).collect();
            Finding::new(
                &GLYPH_MISSING,
                format!("no font on the card has the sign {}", list.join(", ")),
            )
            .label(*place, "")
            .help(LETTERS)
        }
    }
}

/// The card's own words in the language asked for, or of the words file named; English
/// without a wish.
fn words(
    language: Option<&Placed<String>>,
    sources: &mut Vec<Source>,
    findings: &mut Vec<Finding>,
) -> Option<Words> {
    let tag = language.map_or(USUAL_LANGUAGE, |language| &language.value);
    if let Some(words) = Words::named(tag) {
        return words.ok();
    }
    let tags: Vec<&str> = Words::tags().collect();
    let help = format!("languages: {}; or name a words file: \"nl.toml\"", tags.join(", "));
    let unknown = |title: String, label: String| {
        let finding = Finding::new(&rules::LANGUAGE_UNKNOWN, title).help(help.clone());
        match language {
            Some(language) => finding.label(language.place, label),
            None => finding,
        }
    };
    let Some(name) = language.filter(|language| is_file_name(&language.value)) else {
        let title = format!("there are no words for a card in the language \"{tag}\"");
        findings.push(unknown(title, String::new()));
        return None;
    };
    match source::file(&beside(name, sources)) {
        Ok(source) => {
            let words = words::read(&source, FileId(sources.len()), findings);
            sources.push(source);
            words
        }
        Err(error) => {
            let title = format!("the words file \"{tag}\" cannot be read");
            findings.push(unknown(title, why(error)));
            None
        }
    }
}

/// Whether a name is meant as a file's rather than a built-in one.
fn is_file_name(name: &str) -> bool {
    let ends_in_toml = name.len().checked_sub(5).and_then(|start| name.get(start..));
    ends_in_toml.is_some_and(|end| end.eq_ignore_ascii_case(".toml")) || name.contains(['/', '\\'])
}

/// A name beside the file that names it.
fn beside(name: &Placed<String>, sources: &[Source]) -> PathBuf {
    let folder = sources.get(name.place.file.0).map(Source::folder).unwrap_or_default();
    folder.join(&name.value)
}
