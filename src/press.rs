//! What a session needs to be printed beside its plan: stock, words, badge, cautions.

mod rules;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use xxhash_rust::xxh3::xxh3_128;

pub use rules::RULES;

use crate::card::badge::{Badge, BadgeError};
use crate::card::stock::{self, Orientation, Stock};
use crate::card::words::{self, Words};
use crate::card::{Card, Composed, Extras, Fault, GLYPH_MISSING, STOCK_UNUSABLE, back, compose};
use crate::check::{CheckedSession, wording};
use crate::finding::{FileId, Finding, Place, Placed};
use crate::measure::{LIMITS, Pool};
use crate::paint::pdf::{Made, Meta};
use crate::plan::{Plan, Version};
use crate::session::nearest;
use crate::sheet::{self, Dimensions, Faces};
use crate::source::{self, LoadError, Source, reason};

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
        composed.faults.iter().map(|fault| told(fault, plan, title)).collect()
    }
}

/// A fault of the layout as a finding.
pub(crate) fn told(fault: &Fault, plan: &Plan, title: Place) -> Finding {
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
                &GLYPH_MISSING,
                format!("no font on the card has the sign {}", list.join(", ")),
            )
            .label(*place, "")
            .help("write it in letters")
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
    let help = format!("languages at hand: {}; or name a words file: \"nl.toml\"", tags.join(", "));
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
    match source::load(&beside(name, sources)) {
        Ok(source) => {
            let words = words::read(&source, FileId(sources.len()), findings);
            sources.push(source);
            words
        }
        Err(error) => {
            let title = format!("the words file \"{tag}\" cannot be read");
            findings.push(unknown(title, said(error)));
            None
        }
    }
}

/// Whether a name is meant as a file's rather than a built-in one.
fn is_file_name(name: &str) -> bool {
    name.ends_with(".toml") || name.contains(['/', '\\'])
}

/// A name beside the file that names it.
fn beside(name: &Placed<String>, sources: &[Source]) -> PathBuf {
    let folder = sources.get(name.place.file.0).map(Source::folder).unwrap_or_default();
    folder.join(&name.value)
}

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
fn stock_of_the_club(
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
fn said(error: LoadError) -> String {
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

/// Badges read in this run, by a hash of their files and whether in greys: a club's sessions share one.
static BADGES: Mutex<Vec<((u128, bool), Arc<Badge>)>> = Mutex::new(Vec::new());
/// A run over many clubs forgets the oldest.
const MOST_BADGES: usize = 16;

/// The badge in a file, decoded once a run.
fn read_badge(bytes: &[u8], grey: bool) -> Result<Arc<Badge>, BadgeError> {
    // A panic elsewhere leaves whole badges behind, or none.
    let known = || BADGES.lock().unwrap_or_else(PoisonError::into_inner);
    let key = (xxh3_128(bytes), grey);
    if let Some((_, badge)) = known().iter().find(|(own, _)| *own == key) {
        return Ok(badge.clone());
    }
    let badge = Badge::read(bytes)?;
    let badge = Arc::new(if grey { badge.in_greys() } else { badge });
    let mut all = known();
    if all.len() >= MOST_BADGES {
        all.remove(0);
    }
    all.push((key, badge.clone()));
    Ok(badge)
}

fn badge(
    name: &Placed<String>,
    grey: bool,
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
        read_badge(&bytes, grey).map_err(|error| error.to_string())
    };
    read().map_err(|reason| findings.push(unreadable(reason))).ok()
}
