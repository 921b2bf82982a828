//! `deckcard block draft --from … --to … -o DIR`

use std::fs;
use std::path::PathBuf;

use crate::advice::swims::{LONG_SWIM, longest_usual};
use crate::block::drafting::{BLOCK_FILE, BlockWish, DraftedFile, draft_block};
use crate::block::progression::{USUAL_GROWTH_PERCENT, USUAL_LONGEST_GROWTH_PERCENT};
use crate::block::words::Weekday;
use crate::cli::arguments::{date, distance, minutes, pace, pool, time_of_day, word};
use crate::cli::draft::printable;
use crate::cli::reporter::Reporter;
use crate::cli::waiting::Waiting;
use crate::cli::{Refusal, write};
use crate::draft::Library;
use crate::measure::{Date, Distance, LIMITS, Pace, Pool, Seconds, TimeOfDay};
use crate::report::counted;
use crate::session::words::Level;
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
    #[arg(long, value_parser = weeks)]
    weeks: u32,
    /// Sessions a week
    #[arg(long, default_value_t = 2, value_parser = sessions)]
    sessions: u32,
    /// Whom it is for: beginner, improver or advanced
    #[arg(long, value_parser = word::<Level>)]
    level: Level,
    /// The pool, as in "25 m"
    #[arg(long, value_parser = pool)]
    pool: Pool,
    /// Swim time per 100 of the pool's unit at steady freestyle, as in 2:50
    #[arg(long, value_parser = pace)]
    pace: Seconds,
    /// No session takes more minutes
    #[arg(long, value_parser = minutes)]
    minutes: Option<Seconds>,
    /// A session as it is swum today, as in "800 m"
    #[arg(long, value_parser = distance)]
    session: Option<Distance>,
    /// By how many per cent a week may grow
    #[arg(long, default_value_t = USUAL_GROWTH_PERCENT, value_parser = percent)]
    growth: u32,
    /// By how many per cent the longest swim may grow from week to week
    #[arg(long, default_value_t = USUAL_LONGEST_GROWTH_PERCENT, value_parser = percent)]
    longest_growth: u32,
    /// The first day of the first week, as in 2027-01-11
    #[arg(long, alias = "starts", value_name = "DATE", value_parser = date)]
    begins: Option<Date>,
    /// The day the block leads to, as in 2027-05-15: its last week is the seven days before, and
    /// easier
    #[arg(long, value_name = "DATE", value_parser = date, conflicts_with = "begins")]
    day: Option<Date>,
    /// The days with sessions, as in tue,thu
    #[arg(long, value_delimiter = ',', value_parser = word::<Weekday>)]
    days: Vec<Weekday>,
    /// When sessions start, as in 19:15
    #[arg(long, value_name = "TIME", value_parser = time_of_day)]
    at: Option<TimeOfDay>,
    /// The gear you have, as in board,fins
    #[arg(long, value_delimiter = ',')]
    gear: Vec<String>,
    /// What the block is called
    #[arg(long)]
    title: Option<String>,
    /// The club file, named as from the folder the block is written to
    #[arg(long, value_name = "FILE")]
    club: Option<String>,
    /// The folder the files are written to
    #[arg(short, long, value_name = "DIR", value_parser = super::super::arguments::folder)]
    output: PathBuf,
    /// Write over files that are there
    #[arg(long)]
    force: bool,
}

fn weeks(text: &str) -> Result<u32, String> {
    whole(text, 1, LIMITS.weeks.most)
}

fn sessions(text: &str) -> Result<u32, String> {
    whole(text, 1, 14)
}

fn percent(text: &str) -> Result<u32, String> {
    whole(text, 1, LIMITS.growth_percent.most)
}

fn whole(text: &str, least: u64, most: u64) -> Result<u32, String> {
    let number = text.trim().parse().ok();
    number
        .filter(|number| (least..=most).contains(&u64::from(*number)))
        .ok_or_else(|| format!("write a whole number, {least} to {most}"))
}

/// Drafts the block and writes its files, all or none.
pub(super) fn run(arguments: &Arguments, reporter: &Reporter) -> Result<(), Refusal> {
    arguments.title.as_ref().map_or(Ok(()), |title| printable("title", title))?;
    let folder = &arguments.output;
    // The folder comes first: a club file is looked for from it on.
    let was_there = folder.exists();
    write::folder(folder)?;
    let done = write_into(arguments, reporter);
    if done.is_err() && !was_there {
        // Only an empty folder is removed; what was written stays.
        let _ = fs::remove_dir(folder);
    }
    done
}

fn write_into(arguments: &Arguments, reporter: &Reporter) -> Result<(), Refusal> {
    let folder = &arguments.output;
    let library = Library::built_in()?;
    let wish = arguments.wish();
    let sessions = u64::from(wish.weeks) * u64::from(wish.sessions);
    let files = Waiting::on(sessions, |waiting| {
        let club = |name: &str| source::file(&folder.join(name));
        draft_block(&wish, &library, &club, &|| waiting.count())
    })?;
    for DraftedFile { name, .. } in &files {
        write::may_take(&folder.join(name), arguments.force)?;
    }
    // The file that names the others is the last of them.
    let (blocks, sessions): (Vec<_>, Vec<_>) =
        files.into_iter().partition(|file| file.name == BLOCK_FILE);
    let all = sessions.into_iter().chain(blocks);
    let all: Vec<(PathBuf, String)> =
        all.map(|DraftedFile { name, text }| (folder.join(name), text)).collect();
    let wrote = write::all(&all, write::ReadOnly::unless(arguments.force))?;
    let sessions = counted(wrote.len().saturating_sub(1), "session");
    let replaced = match wrote.iter().filter(|wrote| wrote.replaced).count() {
        0 => String::new(),
        count => format!(", in place of {}", counted(count, "earlier file")),
    };
    let block = folder.join(BLOCK_FILE);
    reporter.note(format_args!("wrote {} and {sessions}{replaced}", block.display()));
    if let Some(long) = past_the_usual(&wish) {
        reporter.note(long);
    }
    Ok(())
}

/// That the block leads past what is usual at the level, where it does: each such session says
/// so too.
fn past_the_usual(wish: &BlockWish) -> Option<String> {
    let most = longest_usual(wish.level, wish.pool.unit());
    (wish.to.true_length() > most.true_length()).then(|| {
        format!(
            "warning: {} without a stop is long for the level {}, {} is usual at most; the block leads \
             up to it, and sessions with longer swims allow {} for that reason",
            wish.to.spoken(),
            wish.level,
            most.with_commas(),
            LONG_SWIM.id
        )
    })
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
            time: self.minutes,
            session: self.session,
            growth_percent: self.growth,
            longest_growth_percent: self.longest_growth,
            begins: self.begins,
            day: self.day,
            days: self.days.clone(),
            starts: self.at,
            gear: self.gear.clone(),
        }
    }
}
