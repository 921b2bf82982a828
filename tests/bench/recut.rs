//! How long recuts take: every demo session, and one at the limits (200 sets, 24 lanes).
//!
//! `cargo bench --bench recut`. Times are printed; nothing is asserted, since a busy machine
//! is no fault of the search.

use std::path::Path;
use std::time::{Duration, Instant};

use deckcard::check::{CheckedSession, check};
use deckcard::measure::{Distance, Seconds};
use deckcard::plan::{self, recut::Target, recut::recut};
use deckcard::session::read;
use deckcard::source::{self, Source};

fn main() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/sessions");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("the demo sessions")
        .map(|file| file.expect("a file").path())
        .filter(|path| path.file_stem().is_some_and(|stem| stem != "club"))
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    files.sort();
    for path in files {
        let session = checked(source::load(&path).expect("a demo session"));
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        report(&name, &session);
    }
    report("at the limits", &checked(Source::new("limits.toml", at_the_limits())));
}

fn report(name: &str, session: &CheckedSession) {
    let version =
        time(|| drop(plan::make(session, session.other_pool().expect("another pool"), None)));
    let lanes = time(|| {
        for lane in session.lanes() {
            drop(plan::make(session, session.pool().value, Some(lane)));
        }
    });
    let own = plan::make(session, session.pool().value, None).seconds().get();
    let minutes: Vec<u32> = [60, 80, 95, 105, 130].map(|percent| own * percent / 100).to_vec();
    let slowest = minutes.into_iter().map(|seconds| {
        let target = Target::Time(Seconds::new(seconds));
        time(|| drop(recut(session, session.pool().value, None, target)))
    });
    let slowest = slowest.max().unwrap_or_default();
    let home = session.pool().value;
    let whole = plan::make(session, home, None).distance().sixths();
    let distances = [20, 70, 130].map(|percent| {
        let wanted = Distance::from_sixths(whole * percent / 100, home.unit());
        time(|| drop(recut(session, home, None, Target::Distance(wanted))))
    });
    let distance = distances.into_iter().max().unwrap_or_default();
    let twelve_hours = Target::Time(Seconds::new(12 * 3600));
    let long = time(|| drop(recut(session, home, None, twelve_hours)));
    println!("{name:>20}: a distance {distance:>10.1?}, twelve hours {long:>10.1?}");
    println!(
        "{name:>20}: other pool {version:>10.1?}, lanes {lanes:>10.1?}, a time {slowest:>10.1?}"
    );
}

fn time(work: impl Fn()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

fn checked(source: Source) -> CheckedSession {
    let folder = source.folder();
    let reading = read(source, &|name| source::load(&folder.join(name)));
    let mut findings = reading.findings;
    let session = reading.session.and_then(|session| check(session, &mut findings));
    session.unwrap_or_else(|| panic!("{findings:?}"))
}

/// 200 sets in five parts, 24 lanes, all of them past the booking.
fn at_the_limits() -> String {
    let mut text = "title = \"T\"\npool = \"25 m\"\nlevel = \"advanced\"\ngoal = \"endurance\"\n\
        focus = \"f\"\npace = \"1:40\"\nbooked = \"8 h\"\n"
        .to_owned();
    for lane in 0..24 {
        let pace = 90 + 3 * lane;
        text.push_str(&format!(
            "[[lane]]\nname = \"Lane {lane}\"\npace = \"{}:{:02}\"\nstretch = true\n",
            pace / 60,
            pace % 60
        ));
    }
    let parts =
        [("warm-up", 30), ("pre-set", 25), ("main set", 100), ("post set", 20), ("cool-down", 25)];
    let mut set = 0;
    for (kind, sets) in parts {
        text.push_str(&format!("[[part]]\nkind = \"{kind}\"\nsets = [\n"));
        for _ in 0..sets {
            set += 1;
            let (repeats, each) = (2 + set % 5, [25, 50, 50, 75, 100][set % 5]);
            let mode = ["free", "kick", "back", "pull"][set % 4];
            text.push_str(&format!(
                "{{ swim = \"{repeats} x {each} {mode}\", rest = \"15 s\" }},\n"
            ));
        }
        text.push_str("]\n");
    }
    text
}
