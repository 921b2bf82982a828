//! Reads a session file, and the club file it names, into a [`Session`].

use toml::de::DeValue;

use super::words::{Effort, Level, Mode, PartKind, Stroke};
use super::{keys, rules, set_line, text, usual};
use crate::finding::{FileId, Finding, Place, Placed};
use crate::reader::keys::Form;
use crate::reader::syntax::Tree;
use crate::reader::table::TableReader;
use crate::reader::value::{Booking, Node, Readable};
use crate::reader::{FileKind, root_reader, syntax};
use crate::session::{
    Activity, Allow, Bands, Club, Lane, LevelBands, Line, OwnEffort, Part, Rounds, Session, Set,
    SpeedFactors,
};
use crate::source::{LoadError, Source};

/// What reading a session gave: the files, what could be read of them, and all that is wrong.
#[derive(Debug)]
pub struct SessionReading {
    /// The session file, then the club file if it was read; findings point into these.
    pub sources: Vec<Source>,
    /// The session, with whatever could be read; `None` where too little could.
    pub session: Option<Session>,
    /// Everything wrong so far.
    pub findings: Vec<Finding>,
    /// What the file is, where it is no session at all.
    pub kind: FileKind,
}

/// Reads a session. `open` gives the club file, by its name as written.
///
/// A source that is a file of another kind gives no session; a club file is read then, so that its
/// own faults are found.
pub fn read(source: Source, open: &dyn Fn(&str) -> Result<Source, LoadError>) -> SessionReading {
    read_as_usual(source, open, &Usual::default())
}

/// What stands in for what a message leaves out, besides the club file that it names or that lies
/// beside it. A session in TOML says everything itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Usual {
    /// The club file, by the name it is opened by.
    pub club: Option<String>,
    /// The pace per 100, as a message would have it: "1:45", "1:45 per 100 yd".
    pub pace: Option<String>,
}

/// The same, with what a caller knows to be usual.
pub fn read_as_usual(
    source: Source,
    open: &dyn Fn(&str) -> Result<Source, LoadError>,
    usual: &Usual,
) -> SessionReading {
    if text::is_message(&source) {
        return text::read(source, open, usual);
    }
    let mut findings = Vec::new();
    let tree = syntax::parse(&source, FileId::MAIN, &mut findings);
    let kind = tree.kind;
    match kind {
        FileKind::Session => {}
        FileKind::Club => {
            read_club(tree, &source, FileId::MAIN, &mut findings);
            return SessionReading { sources: vec![source], session: None, findings, kind };
        }
        // Each has a reader of its own, which reports what is wrong with it.
        FileKind::Block | FileKind::Stock | FileKind::Words | FileKind::Patterns => {
            return SessionReading {
                sources: vec![source],
                session: None,
                findings: Vec::new(),
                kind,
            };
        }
    }
    if tree.root.as_ref().is_some_and(|root| root.get_ref().is_empty()) {
        if findings.is_empty() {
            findings.push(rules::nothing_written(&source));
        }
        return SessionReading { sources: vec![source], session: None, findings, kind };
    }
    let mut sources = Vec::new();
    let session = tree.root.map(|root| {
        let found = &mut findings;
        let table = root_reader(root.get_ref(), &keys::SESSION, &source, FileId::MAIN, found);
        let name = table.take(&keys::session::CLUB, found);
        let before = found.len();
        let club = name.as_ref().and_then(|name| open_club(name, open, &mut sources, found));
        // What a club file has that cannot be read is not missing in the session.
        if !found.iter().skip(before).any(Finding::is_error) {
            table.report_left_out(&|entry| usual::has(club.as_ref(), entry), found);
        }
        let own = usual::words(club.as_ref());
        let session = read_session(&table.with_words(&own), club, found);
        Session { club_named: name, ..session }
    });
    sources.insert(0, source);
    SessionReading { sources, session, findings, kind }
}

/// Opens and reads the club file a file names, and puts it behind the `others` that were read beside
/// the file itself.
pub(crate) fn open_club(
    name: &Placed<String>,
    open: &dyn Fn(&str) -> Result<Source, LoadError>,
    others: &mut Vec<Source>,
    found: &mut Vec<Finding>,
) -> Option<Club> {
    match open(&name.value) {
        Ok(source) => {
            let file = FileId(others.len() + 1);
            let tree = syntax::parse(&source, file, found);
            if let Some(kind) = tree.other_than(FileKind::Club) {
                found.push(club_unreadable(name, &format!("it is {kind}")));
                return None;
            }
            let club = read_club(tree, &source, file, found);
            others.push(source);
            club
        }
        Err(error) => {
            found.push(club_unreadable(name, &error.to_string()));
            None
        }
    }
}

fn club_unreadable(name: &Placed<String>, reason: &str) -> Finding {
    Finding::new(
        &rules::CLUB_UNREADABLE,
        format!("the club file \"{}\" cannot be read", name.value),
    )
    .label(name.place, reason)
    .help("its name is looked for beside the file that names it")
}

/// The head of a session from its keys, without any part; what is left out is not told.
pub(super) fn of_keys(source: &Source, club: Option<Club>, found: &mut Vec<Finding>) -> Session {
    let tree = syntax::parse(source, FileId::MAIN, found);
    let own = usual::words(club.as_ref());
    let empty = toml::de::DeTable::new();
    let root = tree.root.as_ref().map_or(&empty, |root| root.get_ref());
    // Only what is there is of interest: nothing has to be.
    let mut missing = Vec::new();
    let table = root_reader(root, &keys::SESSION, source, FileId::MAIN, &mut missing);
    read_session(&table.with_words(&own), club, found)
}

/// A stand-in for what could not be read. The file is at fault already and nothing is
/// printed of it; it only lets the later checks report the rest in the same run.
fn stand_in<T>(value: T) -> Placed<T> {
    Placed::new(value, Place::new(FileId::MAIN, 0..0))
}

/// The session of a file's root table; what it leaves out is as is usual in the club.
fn read_session(table: &TableReader<'_>, club: Option<Club>, found: &mut Vec<Finding>) -> Session {
    use keys::session as key;
    let theirs = club.as_ref();
    let pool = table.take_or(&key::POOL, theirs.and_then(|club| club.pool.clone()), found);
    let (pace, pace_unit) = usual::pace(table, theirs, found);
    let lanes = usual::lanes(table, theirs, pool.as_ref().map(|pool| pool.value), found);
    let level = table.take_or(&key::LEVEL, theirs.and_then(|club| club.level.clone()), found);
    let booked = theirs.and_then(|club| Some(club.booked.clone()?.map(Booking)));
    let booked = table.take_or(&key::BOOKED, booked, found);
    let starts = table.take_or(&key::STARTS, theirs.and_then(|club| club.starts.clone()), found);
    Session {
        title: table.take(&key::TITLE, found).unwrap_or_else(|| stand_in(String::new())),
        date: table.take(&key::DATE, found),
        pool,
        also: table.take(&key::ALSO, found),
        keep: table.take(&key::KEEP, found),
        level: level.unwrap_or_else(|| stand_in(Level::Improver)),
        goal: table.take(&key::GOAL, found),
        focus: table.take(&key::FOCUS, found),
        booked: booked.map(|booked| booked.map(|Booking(time)| time)),
        starts,
        pace,
        pace_unit,
        at_usual_pace: false,
        changeover: table.take(&key::CHANGEOVER, found),
        speed: table.take(&key::SPEED, found).unwrap_or_default(),
        gear: table.take(&key::GEAR, found).unwrap_or_default(),
        strokes_per_length: table.take(&key::STROKES_PER_LENGTH, found),
        together: table.take(&key::TOGETHER, found).is_some_and(|together| together.value),
        language: table.take(&key::LANGUAGE, found),
        allow: table.take(&key::ALLOW, found).unwrap_or_default(),
        lanes,
        parts: table.take(&key::PARTS, found).unwrap_or_default(),
        club_named: None,
        club,
    }
}

fn read_club(
    tree: Tree<'_>,
    source: &Source,
    file: FileId,
    found: &mut Vec<Finding>,
) -> Option<Club> {
    let root = tree.root?;
    let table = root_reader(root.get_ref(), &keys::CLUB, source, file, found);
    use keys::club as key;
    let name = table.take(&key::NAME, found);
    let pace = table.take(&key::PACE, found);
    let mut club = Club {
        badge: table.take(&key::BADGE, found),
        badge_grey: table.take(&key::BADGE_GREY, found),
        stock: table.take(&key::STOCK, found),
        notice: table.take(&key::NOTICE, found),
        pool: table.take(&key::POOL, found),
        also: table.take(&key::ALSO, found),
        pace_unit: pace.as_ref().and_then(|pace| pace.value.unit),
        pace: pace.map(|pace| pace.map(|pace| pace.per_100)),
        level: table.take(&key::LEVEL, found),
        booked: table.take(&key::BOOKED, found).map(|booked| booked.map(|Booking(time)| time)),
        starts: table.take(&key::STARTS, found),
        gear: table.take(&key::GEAR, found).unwrap_or_default(),
        rest: table.take(&key::REST, found),
        pool_width: table.take(&key::POOL_WIDTH, found),
        changeover: table.take(&key::CHANGEOVER, found),
        language: table.take(&key::LANGUAGE, found),
        allow: table.take(&key::ALLOW, found).unwrap_or_default(),
        speed: table.take(&key::SPEED, found).unwrap_or_default(),
        efforts: table.take(&key::EFFORTS, found).unwrap_or_default(),
        lanes: table.take(&key::LANES, found).unwrap_or_default(),
        bands: table.take(&key::BANDS, found).unwrap_or_default(),
        name: name?,
    };
    usual::say_units(&mut club, found);
    usual::check_words(&club, found);
    Some(club)
}

impl Readable for Part {
    const FORM: Form = Form::Table(&keys::PART);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &keys::PART, found)?;
        let kind = table.take(&keys::part::KIND, found);
        let title = table.take(&keys::part::TITLE, found);
        let keep = table.take(&keys::part::KEEP, found);
        let lines = table.take(&keys::part::SETS, found).unwrap_or_default();
        Some(Part { kind, title, keep, lines, place: node.place })
    }
}

impl Readable for Line {
    const FORM: Form =
        Form::LineOrTable(|| vec![&keys::SET, &keys::ROUNDS, &keys::ACTIVITY, &keys::REMARK]);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let has = |keys: &[&str]| {
            matches!(node.value, DeValue::Table(table)
                if !table.contains_key("swim") && keys.iter().any(|key| table.contains_key(*key)))
        };
        if let DeValue::String(line) = node.value {
            return set_line::read(node, line, found);
        }
        if has(&["rounds", "sets"]) {
            read_rounds(node, found).map(Line::Rounds)
        } else if has(&["activity"]) {
            read_activity(node, found).map(Line::Activity)
        } else if has(&["remark"]) {
            let table = TableReader::open(node, &keys::REMARK, found)?;
            table.take(&keys::remark::REMARK, found).map(Line::Remark)
        } else {
            read_set(node, found).map(|set| Line::Set(Box::new(set)))
        }
    }
}

fn read_rounds(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Rounds> {
    let table = TableReader::open(node, &keys::ROUNDS, found)?;
    let count = table.take(&keys::rounds::ROUNDS, found);
    let rest = table.take(&keys::rounds::REST, found);
    let efforts = table.take(&keys::rounds::EFFORTS, found).unwrap_or_default();
    let lines = table.take(&keys::rounds::SETS, found).unwrap_or_default();
    Some(Rounds { count: count?, rest, efforts, lines, place: node.place })
}

fn read_activity(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Activity> {
    let table = TableReader::open(node, &keys::ACTIVITY, found)?;
    let what = table.take(&keys::activity::ACTIVITY, found);
    let time = table.take(&keys::activity::TIME, found);
    Some(Activity { what: what?, time: time? })
}

fn read_set(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Set> {
    let found_before = found.len();
    let table = TableReader::open(node, &keys::SET, found)?;
    use keys::set as key;
    let swim = table.take(&key::SWIM, found);
    let rest = table.take(&key::REST, found);
    let rest_after = table.take(&key::REST_AFTER, found);
    let on = table.take(&key::ON, found);
    let effort = table.take(&key::EFFORT, found);
    let pattern = table.take(&key::PATTERN, found);
    let cue = table.take(&key::CUE, found);
    let strokes = table.take(&key::STROKES, found);
    let gear = table.take(&key::GEAR, found).unwrap_or_default();
    let fixed = table.take(&key::FIXED, found).is_some_and(|fixed| fixed.value);
    let keep = table.take(&key::KEEP, found);
    let lanes = table.take(&key::LANES, found).unwrap_or_default();
    Some(Set {
        swim: swim?,
        rest,
        rest_after,
        on,
        effort,
        pattern,
        cue,
        strokes,
        gear,
        fixed,
        keep,
        lanes,
        read_whole: found.len() == found_before && table.is_whole(),
        place: node.place,
    })
}

impl Readable for Lane {
    const FORM: Form = Form::Table(&keys::LANE);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &keys::LANE, found)?;
        use keys::lane as key;
        let name = table.take(&key::NAME, found);
        let pace = table.take(&key::PACE, found);
        let swimmers = table.take(&key::SWIMMERS, found);
        let gap = table.take(&key::GAP, found);
        let stretch = table.take(&key::STRETCH, found);
        let strokes_per_length = table.take(&key::STROKES_PER_LENGTH, found);
        let (name, pace) = (name?, pace?);
        let pace_unit = pace.value.unit;
        let pace = pace.map(|pace| pace.per_100);
        Some(Lane { name, pace, pace_unit, swimmers, gap, stretch, strokes_per_length })
    }
}

impl Readable for OwnEffort {
    const FORM: Form = Form::Table(&keys::OWN_EFFORT);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &keys::OWN_EFFORT, found)?;
        let word = table.take(&keys::own_effort::WORD, found);
        let counts = table.take(&keys::own_effort::COUNTS, found);
        Some(OwnEffort { word: word?, counts: counts? })
    }
}

impl Readable for Allow {
    const FORM: Form = Form::Table(&keys::ALLOW);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &keys::ALLOW, found)?;
        let finding = table.take(&keys::allow::FINDING, found);
        let because = table.take(&keys::allow::BECAUSE, found);
        Some(Allow { finding: finding?, because: because?, place: node.place })
    }
}

impl Readable for SpeedFactors {
    const FORM: Form = Form::Table(&keys::SPEED);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &keys::SPEED, found)?;
        use keys::speed as key;
        let mut factors = SpeedFactors::default();
        for (stroke, key) in [
            (Stroke::Free, &key::FREE),
            (Stroke::Back, &key::BACK),
            (Stroke::Breast, &key::BREAST),
            (Stroke::Fly, &key::FLY),
            (Stroke::Im, &key::IM),
            (Stroke::Choice, &key::CHOICE),
        ] {
            factors.strokes.extend(table.take(key, found).map(|factor| (stroke, factor)));
        }
        for (mode, key) in [
            (Mode::Swim, &key::SWIM),
            (Mode::Kick, &key::KICK),
            (Mode::Pull, &key::PULL),
            (Mode::Drill, &key::DRILL),
            (Mode::Scull, &key::SCULL),
        ] {
            factors.modes.extend(table.take(key, found).map(|factor| (mode, factor)));
        }
        for (effort, key) in [
            (Effort::Easy, &key::EASY),
            (Effort::Steady, &key::STEADY),
            (Effort::Strong, &key::STRONG),
            (Effort::Hard, &key::HARD),
            (Effort::Sprint, &key::SPRINT),
        ] {
            factors.efforts.extend(table.take(key, found).map(|factor| (effort, factor)));
        }
        factors.changeover = table.take(&key::CHANGEOVER, found);
        Some(factors)
    }
}

impl Readable for Bands {
    const FORM: Form = Form::Table(&keys::BANDS);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &keys::BANDS, found)?;
        let mut bands = Bands::default();
        for (level, key) in [
            (Level::Beginner, &keys::bands::BEGINNER),
            (Level::Improver, &keys::bands::IMPROVER),
            (Level::Advanced, &keys::bands::ADVANCED),
        ] {
            bands.levels.extend(table.take(key, found).map(|of_level| (level, of_level)));
        }
        Some(bands)
    }
}

impl Readable for LevelBands {
    const FORM: Form = Form::Table(&keys::LEVEL_BANDS);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &keys::LEVEL_BANDS, found)?;
        let mut bands = LevelBands::default();
        for (kind, key) in [
            (PartKind::WarmUp, &keys::level_bands::WARM_UP),
            (PartKind::PreSet, &keys::level_bands::PRE_SET),
            (PartKind::MainSet, &keys::level_bands::MAIN_SET),
            (PartKind::PostSet, &keys::level_bands::POST_SET),
            (PartKind::CoolDown, &keys::level_bands::COOL_DOWN),
        ] {
            bands.parts.extend(table.take(key, found).map(|band| (kind, band)));
        }
        Some(bands)
    }
}
