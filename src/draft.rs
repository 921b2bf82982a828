//! Sessions from a wish: level, goal, pool, minutes or distance, pace and the gear there is.
//!
//! What coaches know is data: patterns of sets and cues of skills, in `templates/patterns`,
//! read by [`Library`]. The engine chooses among them for a wish, finds numbers that land in
//! the time and inside the level's bands, and writes a session file with the reason of each
//! part beside it. What it writes has passed every check without a finding.

mod booking;
mod engine;
pub mod keys;
mod library;
mod pattern;
mod read;
mod rules;
mod script;
mod search;
mod size;
mod wording;

pub use booking::Booked;
pub use library::{Library, LibraryError, PatternRecord, check_patterns};
pub use rules::RULES;

use thiserror::Error;

use engine::{Engine, pace_in_pool, single_swim};
use script::Script;

use crate::check::wording::CautionKind;
use crate::finding::Finding;
use crate::measure::{Date, Distance, Lengths, Pace, Pool, Seconds, TimeOfDay};
use crate::session::words::{Goal, Level, PartKind};
use crate::source::{LoadError, Source};

/// What a session is wanted for. A time or a distance must be given, or both.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wish {
    /// Whom it is for.
    pub level: Level,
    /// What it develops.
    pub goal: Goal,
    /// The one skill it attends to, in the coach's words; one of the goal's if left out.
    pub focus: Option<String>,
    /// The pool.
    pub pool: Pool,
    /// Swim time of steady freestyle, per 100 of either unit. Converted to the pool's, the part of
    /// a second is dropped.
    pub pace: Pace,
    /// The session ends within this time, and less than 90 s before it where no distance is
    /// given as well.
    pub time: Option<Seconds>,
    /// The whole session's distance, met within a pair of lengths.
    pub distance: Option<Distance>,
    /// The gear there is, as patterns name it: "board", "fins", "pull buoy". No other is used.
    pub gear: Vec<String>,
    /// Another variant is another choice of patterns for the same wish, from 0 on.
    pub variant: u32,
    /// The main set holds one swim this long without a stop, rounded up to lengths that end
    /// at the start wall. It is marked `fixed = true`.
    pub unbroken: Option<Distance>,
    /// No swim of the whole stroke is longer without a stop, in any part.
    pub longest: Option<Distance>,
    /// Why the swim without a stop is meant where it is longer than is usual at the level: the file then allows
    /// it for this reason. Without one, the draft has the warning.
    pub led_up_to: Option<String>,
    /// What the session is called; invented from the focus if left out.
    pub title: Option<String>,
    /// Its day.
    pub date: Option<Date>,
    /// The name of the club file, as it is written into the session file.
    pub club: Option<String>,
    /// How long the lane is booked, as it is written into the session file. At least the time.
    pub booked: Booked,
    /// When it starts, as it is written into the session file.
    pub starts: Option<TimeOfDay>,
}

impl Wish {
    /// A wish without a time and a distance yet, and with nothing special about it.
    pub fn new(level: Level, goal: Goal, pool: Pool, pace: Pace) -> Self {
        Self {
            level,
            goal,
            focus: None,
            pool,
            pace,
            time: None,
            distance: None,
            gear: Vec::new(),
            variant: 0,
            unbroken: None,
            longest: None,
            led_up_to: None,
            title: None,
            date: None,
            club: None,
            booked: Booked::Wished,
            starts: None,
        }
    }
}

/// A drafted session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drafted {
    /// The whole session file. It passes every check without a finding, but for those below.
    pub text: String,
    /// What a check of the text warns of: that the swim wished for is long for the level.
    pub warnings: Vec<Finding>,
    /// The focus, where no pattern and no cue of the goal has a word of it, and the session's own
    /// cue of it is the only one.
    pub strange_focus: Option<StrangeFocus>,
    /// Its title.
    pub title: String,
    /// Its focus.
    pub focus: String,
    /// The patterns chosen, in the order they are swum.
    pub chosen: Vec<Chosen>,
    /// All lengths.
    pub lengths: Lengths,
    /// All lengths as a distance of the pool.
    pub distance: Distance,
    /// The time of all sets and of the changeovers between them.
    pub seconds: Seconds,
    /// The swim without a stop that was wished for, in whole lengths of the pool.
    pub unbroken: Option<Distance>,
}

/// A focus that nothing in the library speaks of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StrangeFocus {
    /// As wished.
    pub focus: String,
    /// The goal wished.
    pub goal: Goal,
    /// Another goal with a skill that has a word of it, and that skill.
    pub elsewhere: Option<(Goal, String)>,
    /// Skills of the goal that are known.
    pub known: Vec<String>,
}

impl std::fmt::Display for StrangeFocus {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { focus, goal, elsewhere, known } = self;
        write!(
            f,
            "no pattern and no cue for {goal} speaks of \"{focus}\": it is its own only cue; "
        )?;
        if let Some((other, skill)) = elsewhere {
            write!(f, "\"{skill}\" for {other} does; ")?;
        }
        write!(f, "for {goal} there are: {}", known.join(", "))
    }
}

/// A pattern that a drafted session is made of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// The part it makes.
    pub part: PartKind,
    /// The pattern's id.
    pub id: String,
    /// Its name, the title of the part in the file.
    pub name: String,
}

/// Why a wish cannot be met, and what would have to give.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum DraftError {
    /// Neither a time nor a distance is wanted.
    #[error("say how long the session is to be: minutes, a distance, or both")]
    NothingWanted,
    /// The session may take longer than the lane is booked.
    #[error("{} are longer than the lane is booked, {}: ask for less time or book the lane for longer", time.spoken(), booked.spoken())]
    LongerThanBooked {
        /// The time wished.
        time: Seconds,
        /// The booking asked for.
        booked: Seconds,
    },
    /// More than a session is drafted for.
    #[error("a session is drafted for three hours at most, {} at this pace", most.with_commas())]
    TooMuch {
        /// About the distance of a session of three hours.
        most: Distance,
    },
    /// The head of the file would not pass the checks: two skills in one focus, say.
    #[error("{title}{}", help.as_ref().map(|help| format!("; {help}")).unwrap_or_default())]
    Head {
        /// The finding's title.
        title: String,
        /// What to write instead, if it is known.
        help: Option<String>,
    },
    /// A wording that a card prints a caution for.
    #[error("no draft is written for the {key} \"{text}\": it speaks of {}", match kind {
        CautionKind::BreathHold => "holding the breath, and whoever does so on purpose can lose \
                                    consciousness without warning",
        CautionKind::Dive => "a dive or a block start, and whether and where one is safe the \
                              pool's rules and its lifeguards decide",
        CautionKind::Upright => "kicking upright or treading water, and where that may be done the \
                                 pool's rules and its lifeguards decide",
    })]
    Cautioned {
        /// The key it was wished for: "focus" or "title".
        key: &'static str,
        /// As wished.
        text: String,
        /// What it asks for.
        kind: CautionKind,
    },
    /// No pattern uses such gear.
    #[error("no pattern uses \"{piece}\"; {}", match nearest {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("they know: {}", known.join(", ")),
    })]
    UnknownGear {
        /// As wished.
        piece: String,
        /// The nearest there is.
        nearest: Option<String>,
        /// All gear of the library.
        known: Vec<String>,
    },
    /// The library has nothing for a part.
    #[error("no pattern makes a {part} for the level {level} and the goal {goal}")]
    NoPattern {
        /// The part.
        part: PartKind,
        /// The level wished.
        level: Level,
        /// The goal wished.
        goal: Goal,
    },
    /// No session lands in the time.
    #[error("no session of this kind comes out in {wanted}: {}", around(*below, *above))]
    Time {
        /// As wished.
        wanted: Seconds,
        /// The nearest that is shorter, by more than 90 s.
        below: Option<Nearest>,
        /// The nearest that is longer.
        above: Option<Nearest>,
    },
    /// No session comes within a pair of lengths of the distance.
    #[error("no session of this kind has {}: {}", wanted.with_commas(), around(*below, *above))]
    Distance {
        /// As wished.
        wanted: Distance,
        /// The nearest that is shorter.
        below: Option<Nearest>,
        /// The nearest that is longer.
        above: Option<Nearest>,
    },
    /// The distance takes longer than the time.
    #[error("{} takes {} at this pace, longer than {time}: give it more time or fewer lengths", wanted.with_commas(), quickest.seconds)]
    TooLong {
        /// The distance wished.
        wanted: Distance,
        /// The time wished.
        time: Seconds,
        /// The quickest session of that distance.
        quickest: Nearest,
    },
    /// The swim without a stop is more than the session can hold.
    #[error("a swim of {} without a stop needs a session of {} or more: {}", unbroken.with_commas(), needs.distance.with_commas(), needs.seconds)]
    Unbroken {
        /// The swim, in whole lengths.
        unbroken: Distance,
        /// The least session that holds it.
        needs: Nearest,
    },
    /// The swim without a stop alone takes longer than the session.
    #[error("a swim of {} without a stop takes {takes} at this pace, longer than {time}: {}", unbroken.with_commas(), instead(*needs))]
    SwimTooLong {
        /// The swim, in whole lengths.
        unbroken: Distance,
        /// Its time.
        takes: Seconds,
        /// The time wished.
        time: Seconds,
        /// The least session found that holds it, if it may be drafted.
        needs: Option<Nearest>,
    },
    /// What was drafted did not pass the checks.
    #[error("what was drafted does not pass the checks: {title}")]
    Unclean {
        /// The finding's title.
        title: String,
    },
}

/// A session that could be drafted instead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Nearest {
    /// Its distance.
    pub distance: Distance,
    /// Its time.
    pub seconds: Seconds,
}

impl std::fmt::Display for Nearest {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} in {}", self.distance.with_commas(), self.seconds)
    }
}

fn around(below: Option<Nearest>, above: Option<Nearest>) -> String {
    match (below, above) {
        (None, None) => "none shorter and none longer was found either".to_owned(),
        (None, Some(near)) | (Some(near), None) => format!("the nearest found is {near}"),
        (Some(below), Some(above)) => format!("the nearest found are {below} and {above}"),
    }
}

fn instead(needs: Option<Nearest>) -> String {
    match needs {
        Some(needs) => {
            let minutes = needs.seconds.get().div_ceil(60);
            format!(
                "give it {minutes} min, for a session of {}, or a shorter swim",
                needs.distance.with_commas()
            )
        }
        None => "no session of up to three hours holds it, so give it a shorter swim".to_owned(),
    }
}

/// Opens a club file by its name, as it is written in the session file.
pub type Open<'a> = &'a dyn Fn(&str) -> Result<Source, LoadError>;

/// Drafts a session for `wish` from the patterns of `library`. The same wish and library always
/// give the same text. The club file is not opened: its factors, bands and changeover are not
/// known.
///
/// # Errors
///
/// Where there is no such session, what would have to give; or what the wish lacks.
pub fn draft(wish: &Wish, library: &Library) -> Result<Drafted, DraftError> {
    draft_beside(wish, library, &|name| Ok(Source::new(name, "name = \"Club\"\n")))
}

/// Drafts a session that will lie beside its club file, which `club` opens by its name; its
/// factors, bands and changeover are followed.
///
/// # Errors
///
/// As [`draft`], and what is wrong with the club file.
pub fn draft_beside(wish: &Wish, library: &Library, club: Open<'_>) -> Result<Drafted, DraftError> {
    with_engine(wish, library, club, |engine| engine.draft())
}

/// The same where the wish is one of many that are tried. One that cannot be met gives nothing:
/// to find out what could be had instead takes longer than to find a session.
pub(crate) fn draft_if_met(wish: &Wish, library: &Library, club: Open<'_>) -> Option<Drafted> {
    with_engine(wish, library, club, |mut engine| Ok(engine.met_soon())).ok().flatten()
}

/// The least session of a wish's kind, in lengths, whatever its time and its distance; of these
/// the quickest.
pub(crate) fn least_session(wish: &Wish, library: &Library, club: Open<'_>) -> Option<Nearest> {
    with_engine(wish, library, club, |engine| Ok(engine.least())).ok().flatten()
}

/// The session of a wish's kind with most lengths up to a distance, of these the quickest.
pub(crate) fn session_up_to(
    wish: &Wish,
    most: Distance,
    library: &Library,
    club: Open<'_>,
) -> Option<Nearest> {
    with_engine(wish, library, club, |engine| Ok(engine.up_to(most))).ok().flatten()
}

/// The most distance that a session is drafted for at a wish's pace.
pub(crate) fn most_distance(wish: &Wish) -> Distance {
    let pace_s = u64::from(pace_in_pool(wish).get().max(1));
    Distance::whole(u64::from(MOST_SWUM_S) * 100 / pace_s, wish.pool.unit())
}

/// Nobody swims longer in one go under a coach, and the search would take minutes.
const MOST_S: u32 = 3 * 60 * 60;
/// Of a distance only the swimming is known; with rests and easy swims a session takes half as
/// long again.
const MOST_SWUM_S: u32 = MOST_S / 3 * 2;

fn refuse_too_much(wish: &Wish) -> Result<(), DraftError> {
    let most = most_distance(wish);
    let too_long = wish.time.is_some_and(|time| time.get() > MOST_S);
    let too_far = wish.distance.is_some_and(|distance| distance.sixths() > most.sixths());
    if too_long || too_far { Err(DraftError::TooMuch { most }) } else { Ok(()) }
}

fn refuse_past_booking(wish: &Wish) -> Result<(), DraftError> {
    match (wish.time, wish.booked) {
        (Some(time), Booked::Asked(booked)) if time > booked => {
            Err(DraftError::LongerThanBooked { time, booked })
        }
        _ => Ok(()),
    }
}

fn with_engine<T>(
    wish: &Wish,
    library: &Library,
    club: Open<'_>,
    work: impl FnOnce(Engine<'_>) -> Result<T, DraftError>,
) -> Result<T, DraftError> {
    if wish.time.is_none() && wish.distance.is_none() {
        return Err(DraftError::NothingWanted);
    }
    refuse_too_much(wish)?;
    refuse_past_booking(wish)?;
    library.check(wish)?;
    let skill = library.skill(wish);
    let script = Script { wish, pace: pace_in_pool(wish), skill: &skill };
    let single = single_swim();
    work(Engine::new(wish, library, script, &single, club)?)
}
