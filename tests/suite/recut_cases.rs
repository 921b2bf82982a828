//! Sessions as coaches write them, with what they become by hand: the files in tests/recuts.

use std::path::Path;

use deckcard::check::CheckedSession;
use deckcard::fit::{Wanted, fit};
use deckcard::intake::{self, Ready};
use deckcard::measure::{Distance, Pool, Seconds};
use deckcard::plan::{self, LinePlan, Plan, Version};
use deckcard::press::{Press, Wishes};
use deckcard::session::words::{Level, Mode};
use deckcard::source::Source;
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Cases {
    case: Vec<Case>,
}

/// A session, what it is made into, and what is known of the outcome by hand.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    /// The fault, in plain words.
    name: String,
    session: String,
    // What it is made into; a lane's card where one is named.
    pool: Option<String>,
    minutes: Option<u32>,
    distance_wanted: Option<String>,
    level: Option<String>,
    lane: Option<String>,
    // What is then known.
    /// All its sets.
    swims: Option<Vec<String>>,
    distance: Option<String>,
    /// Sets it has, and words no set of it holds.
    #[serde(default)]
    has: Vec<String>,
    #[serde(default)]
    has_one_of: Vec<Vec<String>>,
    #[serde(default)]
    lacks: Vec<String>,
    /// What the card says to bring.
    gear: Option<Vec<String>>,
    /// Findings the session raises, and findings it does not.
    #[serde(default)]
    told: Vec<String>,
    #[serde(default)]
    untold: Vec<String>,
    /// The same when the cards of both pools are made.
    #[serde(default)]
    said_of_cards: Vec<String>,
    #[serde(default)]
    unsaid_of_cards: Vec<String>,
}

fn cases() -> Vec<Case> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/recuts");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("tests/recuts")
        .map(|file| file.expect("a file").path())
        .collect();
    files.sort();
    let read = |path| {
        let text = std::fs::read_to_string(&path).expect("text");
        toml::from_str::<Cases>(&text).unwrap_or_else(|error| panic!("{path:?}: {error}")).case
    };
    files.into_iter().flat_map(read).collect()
}

fn pool(text: &str) -> Pool {
    text.parse().expect("a pool")
}

fn level(text: &str) -> Level {
    use deckcard::reader::trade_words::TradeWord;
    Level::from_text(text).expect("a level")
}

impl Case {
    fn wanted(&self) -> Wanted {
        let unit = |text: &str| {
            text.split_once(' ').map(|(number, unit)| (number.to_owned(), unit.to_owned()))
        };
        let distance = self.distance_wanted.as_deref().and_then(unit).map(|(number, unit)| {
            let unit = pool(&format!("25 {unit}")).unit();
            Distance::whole(number.parse().expect("a number"), unit)
        });
        Wanted {
            time: self.minutes.map(|minutes| Seconds::new(60 * minutes)),
            distance,
            pool: self.pool.as_deref().map(pool),
            level: self.level.as_deref().map(level),
        }
    }

    /// The plan of what the session is made into.
    fn plan(&self, source: &Source, ready: &Ready) -> Plan {
        let session = &ready.session;
        let home = session.pool().value;
        let lane = |of: &CheckedSession| {
            let name = self.lane.as_ref()?;
            let lane = of.lanes().iter().find(|lane| lane.name.value == *name);
            Some(lane.expect("a lane of that name").clone())
        };
        if self.minutes.is_none() && self.distance_wanted.is_none() && self.level.is_none() {
            let pool = self.pool.as_deref().map_or(home, pool);
            return plan::make(session, pool, lane(session).as_ref());
        }
        let fitted = match fit(source, session, &self.wanted()) {
            Ok(fitted) => fitted,
            Err(error) => panic!("{}: {error}", self.name),
        };
        let again = intake::take(Source::new("fitted.toml", fitted.text));
        let again = again.ready.unwrap_or_else(|| panic!("{}: {:?}", self.name, again.findings));
        plan::make(&again.session, again.session.pool().value, lane(&again.session).as_ref())
    }
}

/// What is found when the cards of both pools are made.
fn found_of_cards(session: &CheckedSession) -> Vec<&'static str> {
    let mut findings = Vec::new();
    let press = Press::set_up(session, &mut Vec::new(), &Wishes::default(), &mut findings);
    let press = press.expect("a press");
    for pool in session.pools() {
        press.cards(&Version::of(session, pool), &mut findings);
    }
    findings.iter().map(|finding| finding.rule.id).collect()
}

/// Every set of a plan: "4 x 100 free kick".
fn swims(plan: &Plan) -> Vec<String> {
    fn add(plan: &Plan, lines: &[LinePlan], into: &mut Vec<String>) {
        for line in lines {
            match line {
                LinePlan::Rounds { lines, .. } => add(plan, lines, into),
                LinePlan::Activity { .. } | LinePlan::Remark(_) => {}
                LinePlan::Set(set) => {
                    // What is no plain set is given as it is chalked.
                    if set.chalk.is_shaped() {
                        into.push(set.chalk.to_string());
                        continue;
                    }
                    let number = plan.pool().distance(set.longest()).number_text();
                    let mode = match set.mode() {
                        Mode::Swim => String::new(),
                        mode => format!(" {mode}"),
                    };
                    into.push(format!("{} x {number} {}{mode}", set.repeats(), set.stroke()));
                }
            }
        }
    }
    let mut all = Vec::new();
    plan.parts().iter().for_each(|part| add(plan, &part.lines, &mut all));
    all
}

/// What of a case does not hold.
fn faults(case: &Case) -> Vec<String> {
    let source = Source::new("session.toml", case.session.as_str());
    let intake = intake::take(source.clone());
    let ready = intake.ready.unwrap_or_else(|| panic!("{}: {:?}", case.name, intake.findings));
    let ids: Vec<&str> = intake.findings.iter().map(|finding| finding.rule.id).collect();
    let plan = case.plan(&source, &ready);
    let swims = swims(&plan);
    let mut faults = Vec::new();
    let mut fault = |right: bool, what: String| {
        if !right {
            faults.push(format!("{}: {what}; it is {swims:?}, told {ids:?}", case.name));
        }
    };
    if let Some(expected) = &case.swims {
        fault(*expected == swims, format!("expected {expected:?}"));
    }
    if let Some(distance) = &case.distance {
        fault(plan.distance().to_string() == *distance, format!("expected {distance}"));
    }
    for swim in &case.has {
        fault(swims.contains(swim), format!("expected {swim}"));
    }
    for one_of in &case.has_one_of {
        fault(
            one_of.iter().any(|swim| swims.contains(swim)),
            format!("expected one of {one_of:?}"),
        );
    }
    if let Some(gear) = &case.gear {
        let is: Vec<&String> = plan.gear().iter().map(|piece| &piece.value).collect();
        fault(is == gear.iter().collect::<Vec<_>>(), format!("expected {gear:?}, got {is:?}"));
    }
    for words in &case.lacks {
        fault(!swims.iter().any(|swim| swim.contains(words)), format!("never {words}"));
    }
    for id in &case.told {
        fault(ids.contains(&id.as_str()), format!("expected {id}"));
    }
    for id in &case.untold {
        fault(!ids.contains(&id.as_str()), format!("never {id}"));
    }
    let of_cards = found_of_cards(&ready.session);
    for id in &case.said_of_cards {
        fault(of_cards.contains(&id.as_str()), format!("expected {id} of a card"));
    }
    for id in &case.unsaid_of_cards {
        fault(!of_cards.contains(&id.as_str()), format!("never {id} of a card"));
    }
    faults
}

#[test]
fn sessions_become_what_a_coach_would_make_of_them() {
    let cases = cases();
    let faults: Vec<String> = cases.iter().flat_map(faults).collect();
    assert!(faults.is_empty(), "{} of {}\n{}", faults.len(), cases.len(), faults.join("\n"));
    assert!(cases.len() >= 14, "{}", cases.len());
}
