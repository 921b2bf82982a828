//! `deckcard block draft --from … --to … -o DIR`

use std::fs;
use std::path::PathBuf;

use super::super::{Exit, Refusal, write};
use crate::block::drafting::{BlockWish, DraftedFile, draft_block};
use crate::block::progression::{USUAL_GROWTH_PERCENT, USUAL_LONGEST_GROWTH_PERCENT};
use crate::block::words::Weekday;
use crate::draft::Library;
use crate::measure::{Date, Distance, LIMITS, Pace, Pool, Seconds, TimeOfDay};
use crate::session::words::{Level, TradeWord};
use crate::source;

/// What the block is wanted for.
#[derive(Debug, clap::Args)]
pub(in crate::cli) struct Arguments {
    /// What can be swum without a stop today, as in "200 m"
    #[arg(long, value_parser = distance)]
    from: Distance,
    /// What is to be swum without a stop at the end, as in "1500 m" or "a mile"
    #[arg(long, value_parser = distance)]
    to: Distance,
    /// How many weeks there are
    #[arg(long, value_parser = weeks())]
    weeks: u32,
    /// Sessions a week
    #[arg(long, default_value_t = 2, value_parser = clap::value_parser!(u32).range(1..=14))]
    sessions: u32,
    /// Whom it is for: beginner, improver or advanced
    #[arg(long, value_parser = level)]
    level: Level,
    /// The pool, as in "25 m"
    #[arg(long, value_parser = pool)]
    pool: Pool,
    /// Swim time per 100 of the pool's unit at steady freestyle, as in 2:50
    #[arg(long, value_parser = time)]
    pace: Seconds,
    /// No session takes more minutes
    #[arg(long, value_parser = clap::value_parser!(u32).range(10..=720))]
    minutes: Option<u32>,
    /// A session as it is swum today, as in "800 m"
    #[arg(long, value_parser = distance)]
    session: Option<Distance>,
    /// By how many per cent a week may grow
    #[arg(long, default_value_t = USUAL_GROWTH_PERCENT, value_parser = percent())]
    growth: u32,
    /// By how many per cent the longest swim may grow from week to week
    #[arg(long, default_value_t = USUAL_LONGEST_GROWTH_PERCENT, value_parser = percent())]
    longest_growth: u32,
    /// The first day of the first week, as in 2027-01-11
    #[arg(long, alias = "starts", value_name = "DATE", value_parser = date)]
    begins: Option<Date>,
    /// The days with sessions, as in tue,thu
    #[arg(long, value_delimiter = ',', value_parser = weekday)]
    days: Vec<Weekday>,
    /// When sessions start, as in 19:15
    #[arg(long, value_name = "TIME", value_parser = time_of_day)]
    at: Option<TimeOfDay>,
    /// Gear at hand, as in board,fins
    #[arg(long, value_delimiter = ',')]
    gear: Vec<String>,
    /// What the block is called
    #[arg(long)]
    title: Option<String>,
    /// The club file, named as from the folder the block is written to
    #[arg(long, value_name = "FILE")]
    club: Option<String>,
    /// The folder the files are written to
    #[arg(short, long, value_name = "DIR")]
    output: PathBuf,
    /// Write over files that are there
    #[arg(long)]
    force: bool,
}

fn distance(text: &str) -> Result<Distance, String> {
    text.parse().map_err(|_| "a distance is written as \"400 m\", \"500 yd\" or \"a mile\"".into())
}

fn pool(text: &str) -> Result<Pool, String> {
    text.parse().map_err(|_| "a pool is written as \"25 m\", \"25 yd\" or \"33 1/3 m\"".into())
}

fn time(text: &str) -> Result<Seconds, String> {
    let time: Option<Seconds> = text.parse().ok();
    time.filter(|time| LIMITS.pace_s.holds(u64::from(time.get())))
        .ok_or_else(|| "a pace is written as 2:50, from 0:30 to 20:00".into())
}

fn time_of_day(text: &str) -> Result<TimeOfDay, String> {
    text.parse().map_err(|_| "a time of day is written as 19:15".into())
}

fn date(text: &str) -> Result<Date, String> {
    let numbers: Option<Vec<u16>> = text.split('-').map(|number| number.parse().ok()).collect();
    let date = match numbers.as_deref() {
        Some([year, month, day]) => match (u8::try_from(*month), u8::try_from(*day)) {
            (Ok(month), Ok(day)) => Date::new(*year, month, day).ok(),
            _ => None,
        },
        _ => None,
    };
    date.ok_or_else(|| "a date is written as 2027-01-11".into())
}

fn level(text: &str) -> Result<Level, String> {
    let levels = || Level::texts().collect::<Vec<_>>().join(", ");
    Level::from_any_spelling(text).ok_or_else(|| format!("a level is one of {}", levels()))
}

fn weekday(text: &str) -> Result<Weekday, String> {
    let days = || Weekday::texts().collect::<Vec<_>>().join(", ");
    Weekday::from_any_spelling(text).ok_or_else(|| format!("a day is one of {}", days()))
}

fn weeks() -> clap::builder::RangedI64ValueParser<u32> {
    clap::value_parser!(u32).range(1..=i64::try_from(LIMITS.weeks.most).unwrap_or(i64::MAX))
}

fn percent() -> clap::builder::RangedI64ValueParser<u32> {
    clap::value_parser!(u32)
        .range(1..=i64::try_from(LIMITS.growth_percent.most).unwrap_or(i64::MAX))
}

/// Drafts the block and writes its files, all or none.
pub(super) fn run(arguments: &Arguments) -> Result<Exit, Refusal> {
    let folder = &arguments.output;
    // The folder comes first: a club file is looked for from it on.
    let was_there = folder.exists();
    fs::create_dir_all(folder)
        .map_err(|error| Refusal::Write { path: folder.display().to_string(), error })?;
    let done = write_into(arguments);
    if done.is_err() && !was_there {
        // Only an empty folder is removed; what was written stays.
        let _ = fs::remove_dir(folder);
    }
    done
}

fn write_into(arguments: &Arguments) -> Result<Exit, Refusal> {
    let folder = &arguments.output;
    let library = Library::built_in()?;
    let files = draft_block(&arguments.wish(), &library, &|name| source::load(&folder.join(name)))?;
    let there = files.iter().map(|file| folder.join(&file.name)).find(|path| path.exists());
    if let Some(path) = there.filter(|_| !arguments.force) {
        return Err(Refusal::Exists(path.display().to_string()));
    }
    for DraftedFile { name, text } in &files {
        write::whole(&folder.join(name), text.as_bytes())?;
    }
    let sessions = files.len().saturating_sub(1);
    eprintln!("wrote {} and {sessions} sessions", folder.join("block.toml").display());
    Ok(Exit::Clean)
}

impl Arguments {
    fn wish(&self) -> BlockWish {
        BlockWish {
            title: self.title.clone(),
            club: self.club.clone(),
            from: self.from,
            to: self.to,
            weeks: self.weeks,
            sessions: self.sessions,
            level: self.level,
            pool: self.pool,
            pace: Pace { per_100: self.pace, unit: self.pool.unit() },
            time: self.minutes.map(|minutes| Seconds::new(minutes * 60)),
            session: self.session,
            growth_percent: self.growth,
            longest_growth_percent: self.longest_growth,
            begins: self.begins,
            days: self.days.clone(),
            starts: self.at,
            gear: self.gear.clone(),
        }
    }
}
