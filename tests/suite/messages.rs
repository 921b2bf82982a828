//! Messages as coaches send them: what each comes to by hand agrees with itself.

use std::path::{Path, PathBuf};

use deckcard::finding::{FileId, Place};
use deckcard::measure::Pool;
use deckcard::session::swim::{Asked, Course, Pieces};
use deckcard::session::{Line, Session};
use deckcard::source::Source;

/// What a message comes to, as it was worked out by hand.
#[derive(Debug, Default)]
struct Truth {
    total: String,
    parts: Vec<String>,
    timed_min: u64,
    sets: Vec<(usize, String)>,
    ambiguous: bool,
    /// Why the program does not read it.
    gap: Option<String>,
}

pub fn messages() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/messages");
    let files = std::fs::read_dir(folder).expect("the messages");
    let paths = files.map(|file| file.expect("a file").path());
    let mut texts: Vec<PathBuf> =
        paths.filter(|path| path.extension().is_some_and(|ending| ending == "txt")).collect();
    texts.sort();
    texts
}

fn truth(text: &str) -> Truth {
    let mut truth = Truth::default();
    for line in text.lines().filter(|line| !line.trim_start().starts_with('#')) {
        match line.split_once(':').map(|(key, value)| (key, value.trim())) {
            Some(("total", total)) => total.clone_into(&mut truth.total),
            Some(("parts", parts)) => truth.parts = parts.split(", ").map(str::to_owned).collect(),
            Some(("timed", time)) => truth.timed_min = minutes(time),
            Some(("ambiguous", readings)) => {
                assert_eq!(readings.matches(" | ").count(), 1, "two readings: {line}");
                truth.ambiguous = true;
            }
            Some(("gap", why)) => truth.gap = Some(why.to_owned()),
            Some(("pool" | "headings" | "sets", _)) => {}
            _ if line.trim().is_empty() => {}
            _ => truth.sets.push((line.len() - line.trim_start().len(), line.trim().to_owned())),
        }
    }
    truth
}

fn minutes(text: &str) -> u64 {
    text.strip_suffix(" min").and_then(|min| min.trim().parse().ok()).expect(text)
}

/// What the sets from `at` on come to that stand `indent` in or further: metres, and minutes of swims
/// given by their time.
fn sum(sets: &[(usize, String)], at: &mut usize, indent: usize) -> (u64, u64) {
    let (mut far, mut long) = (0, 0);
    while let Some((inside, line)) = sets.get(*at).filter(|(inside, _)| *inside >= indent) {
        *at += 1;
        let numbers = || line.split_whitespace().filter_map(|word| word.parse::<u64>().ok());
        let (first, last) = (numbers().next().unwrap_or(0), numbers().next_back().unwrap_or(0));
        match line.split_whitespace().next() {
            Some("rounds") => {
                let (inner, time) = sum(sets, at, inside + 1);
                far += first * inner;
                long += first * time;
            }
            Some("activity") => {}
            Some("ladder") => far += numbers().sum::<u64>(),
            Some("broken") => {
                assert_eq!(numbers().skip(1).sum::<u64>(), first, "{line}");
                far += first;
            }
            _ if line.ends_with(" min") => long += first * last,
            _ => far += first * last,
        }
    }
    (far, long)
}

#[test]
fn what_each_message_comes_to_agrees_with_its_sets() {
    let messages = messages();
    assert!(messages.len() >= 40, "{} messages", messages.len());
    for path in messages {
        let name = path.display();
        let text = std::fs::read_to_string(path.with_extension("true")).expect("its answer");
        let truth = truth(&text);
        assert!(!truth.sets.is_empty() && !truth.parts.is_empty(), "{name}");
        let of_part =
            |part: &String| part.rsplit(' ').next().and_then(|far| far.parse::<u64>().ok());
        let parts: Option<Vec<u64>> = truth.parts.iter().map(of_part).collect();
        if truth.ambiguous {
            assert_eq!(truth.total, "ambiguous", "{name}");
            assert_eq!(parts, None, "{name}: a part is as ambiguous as its sets");
            continue;
        }
        let total: u64 = truth.total.parse().unwrap_or_else(|_| panic!("{name}: {}", truth.total));
        assert_eq!(parts.map(|parts| parts.iter().sum()), Some(total), "{name}: its parts");
        let (far, long) = sum(&truth.sets, &mut 0, 0);
        assert_eq!((far, long), (total, truth.timed_min), "{name}: its sets");
    }
}

/// The sets of a session in the notation of the answers.
fn sets_of(
    lines: &[Line],
    pool: Pool,
    lane: Option<&str>,
    depth: usize,
    out: &mut Vec<(usize, String)>,
) {
    let far = |asked: &Asked| match asked {
        Asked::Number(sixths, _) => sixths / 6,
        Asked::Lengths(count) => count * pool.length().sixths() / 6,
        Asked::HalfLength => pool.length().sixths() / 12,
        Asked::Widths(_) => 0,
    };
    for line in lines {
        match line {
            Line::Remark(_) => {}
            Line::Activity(activity) => {
                out.push((depth, format!("activity {} min", activity.time.value.get() / 60)));
            }
            Line::Rounds(rounds) => {
                out.push((depth, format!("rounds {}", rounds.count.value)));
                sets_of(&rounds.lines, pool, lane, depth + 1, out);
            }
            Line::Set(set) => {
                let mine = set.lanes.is_empty()
                    || set.lanes.iter().any(|own| Some(own.value.as_str()) == lane);
                if !mine {
                    continue;
                }
                let swim = &set.swim.value;
                let several = |text: String, out: &mut Vec<(usize, String)>| match swim.repeats {
                    1 => out.push((depth, text)),
                    count => {
                        out.push((depth, format!("rounds {count}")));
                        out.push((depth + 1, text));
                    }
                };
                match &swim.course {
                    Course::Each(asked) => {
                        out.push((depth, format!("{} x {}", swim.repeats, far(asked))))
                    }
                    Course::Timed(time) => {
                        out.push((depth, format!("{} x {} min", swim.repeats, time.get() / 60)));
                    }
                    Course::Ladder(steps) => {
                        let steps: Vec<String> =
                            steps.iter().map(|step| far(step).to_string()).collect();
                        several(format!("ladder {}", steps.join(" ")), out);
                    }
                    Course::Broken { whole, at, .. } => {
                        let pieces: Vec<u64> = match at {
                            Pieces::Listed(pieces) => pieces.iter().map(far).collect(),
                            Pieces::Each(each) => {
                                vec![far(each); (far(whole) / far(each)) as usize]
                            }
                        };
                        let pieces: Vec<String> = pieces.iter().map(u64::to_string).collect();
                        several(format!("broken {} {}", far(whole), pieces.join(" ")), out);
                    }
                }
            }
        }
    }
}

/// A club that says what is usual where a message does not.
fn club(_: &str) -> Result<Source, deckcard::source::LoadError> {
    Ok(Source::new("club.toml", "name = \"Hernmarsh\"\npool = \"25 m\"\npace = \"0:59\"\n"))
}

/// How a message is read against its answer.
#[derive(Debug, PartialEq, Eq)]
enum Outcome {
    Right,
    /// Not right, and an error or a warning says so.
    Told(String),
    /// Not right, and nothing says so.
    Silent(String),
}

fn outcome(path: &Path, truth: &Truth) -> Outcome {
    let text = std::fs::read_to_string(path).expect("a message");
    let intake =
        deckcard::intake::take_beside(Source::new(path.display().to_string(), text.clone()), &club);
    let reading = deckcard::session::read(Source::new(path.display().to_string(), text), &club);
    let worth = intake
        .findings
        .iter()
        .filter(|finding| finding.rule.severity != deckcard::finding::Severity::Note);
    let told: Vec<&str> = worth.map(|finding| finding.rule.id).collect();
    let of_reading =
        ["two-readings", "text-not-understood", "total-disagrees", "pieces-or-sets", "may-be-swum"];
    let is_told = intake.ready.is_none() || told.iter().any(|id| of_reading.contains(id));
    let wrong = |what: String| if is_told { Outcome::Told(what) } else { Outcome::Silent(what) };
    let Some(session) = reading.session else { return wrong("nothing is read".to_owned()) };
    if truth.ambiguous {
        return match told.contains(&"two-readings") {
            true => Outcome::Right,
            false => wrong("two readings are not told".to_owned()),
        };
    }
    let pool =
        session.pool.as_ref().map_or_else(|| "25 m".parse().expect("a pool"), |pool| pool.value);
    let lane = session.lanes.first().map(|lane| lane.name.value.as_str());
    let mut sets = Vec::new();
    for part in &session.parts {
        sets_of(&part.lines, pool, lane, 0, &mut sets);
    }
    let is_set = |(depth, line): &(usize, String)| (depth / 2, line.clone());
    let wanted: Vec<(usize, String)> = truth.sets.iter().map(is_set).collect();
    if sets != wanted {
        let shown = |sets: &[(usize, String)]| {
            sets.iter()
                .map(|(depth, set)| format!("{}{set}", "  ".repeat(*depth)))
                .collect::<Vec<_>>()
                .join(" | ")
        };
        return wrong(format!("read {}\n   wanted {}", shown(&sets), shown(&wanted)));
    }
    if intake.ready.is_none() {
        let errors: Vec<String> = intake
            .findings
            .iter()
            .filter(|finding| finding.is_error())
            .map(|finding| format!("{}: {}", finding.rule.id, finding.title))
            .collect();
        return Outcome::Told(format!("errors: {errors:?}"));
    }
    Outcome::Right
}

#[test]
fn messages_are_read_as_a_coach_would() {
    let (mut right, mut gaps) = (0, 0);
    let (mut told, mut silent) = (Vec::<String>::new(), Vec::<String>::new());
    for path in messages() {
        let name =
            path.file_stem().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let text = std::fs::read_to_string(path.with_extension("true")).expect("its answer");
        let truth = truth(&text);
        match outcome(&path, &truth) {
            Outcome::Right if truth.gap.is_none() => right += 1,
            Outcome::Right => told.push(format!("{name}: no gap any more")),
            Outcome::Told(_) if truth.gap.is_some() => gaps += 1,
            Outcome::Told(what) => told.push(format!("{name}: {what}")),
            Outcome::Silent(what) => silent.push(format!("{name}: {what}")),
        }
    }
    assert_eq!(silent, Vec::<String>::new());
    assert_eq!(told, Vec::<String>::new(), "a gap is known, with its reason in the answer");
    assert!(gaps * 10 <= right + gaps, "{right} right, {gaps} gaps: at least nine of ten are read");
}

/// The bytes of a message that are in the session by a value of their own.
fn values(session: &Session) -> Vec<Place> {
    let mut places = vec![session.title.place, session.level.place];
    places.extend(session.date.as_ref().map(|it| it.place));
    places.extend(session.pool.as_ref().map(|it| it.place));
    places.extend(session.focus.as_ref().map(|it| it.place));
    places.extend(session.booked.as_ref().map(|it| it.place));
    places.extend(session.starts.as_ref().map(|it| it.place));
    places.extend(session.pace.as_ref().map(|it| it.place));
    places.extend(session.gear.iter().map(|it| it.place));
    places.extend(session.lanes.iter().map(|lane| lane.name.place));
    for part in &session.parts {
        places.push(part.place);
        places.extend(part.title.as_ref().map(|it| it.place));
        values_of(&part.lines, &mut places);
    }
    places
}

fn values_of(lines: &[Line], places: &mut Vec<Place>) {
    for line in lines {
        match line {
            Line::Remark(remark) => places.push(remark.place),
            Line::Activity(activity) => places.extend([activity.what.place, activity.time.place]),
            Line::Rounds(rounds) => {
                places.push(rounds.count.place);
                places.extend(rounds.rest.as_ref().map(|it| it.place));
                values_of(&rounds.lines, places);
            }
            Line::Set(set) => {
                places.push(set.swim.place);
                places.extend(set.rest.as_ref().map(|it| it.place));
                places.extend(set.rest_after.as_ref().map(|it| it.place));
                places.extend(set.on.as_ref().map(|it| it.place));
                places.extend(set.effort.as_ref().map(|it| it.place));
                places.extend(set.pattern.as_ref().map(|it| it.place));
                places.extend(set.strokes.as_ref().map(|it| it.place));
                places.extend(set.cue.as_ref().map(|it| it.place));
                places.extend(set.gear.iter().map(|it| it.place));
                places.extend(set.lanes.iter().map(|it| it.place));
            }
        }
    }
}

/// Whether a set that is written around a byte says a number in its swim, or comes to it.
fn swims(lines: &[Line], byte: usize, number: &str) -> bool {
    lines.iter().any(|line| match line {
        Line::Rounds(rounds) => swims(&rounds.lines, byte, number),
        Line::Set(set) if (set.place.start..set.place.end).contains(&byte) => {
            let swim = &set.swim.value;
            let said = swim.to_string();
            let mut numbers = said.split(|sign: char| !sign.is_ascii_digit());
            let whole = match &swim.course {
                Course::Each(Asked::Number(sixths, _)) => swim.repeats * sixths / 6,
                _ => 0,
            };
            numbers.any(|own| own == number) || whole.to_string() == number
        }
        _ => false,
    })
}

/// No number of a message is lost: each is in a value of the session, in a finding, or a sum that is
/// right. Numbers are what a swimmer would miss.
#[test]
fn every_number_of_a_message_is_in_the_session_or_told() {
    let mut lost = Vec::new();
    for path in messages() {
        let text = std::fs::read_to_string(&path).expect("a message");
        let answer = std::fs::read_to_string(path.with_extension("true")).expect("its answer");
        let intake = deckcard::intake::take_beside(Source::new("m.txt", text.clone()), &club);
        let reading = deckcard::session::read(Source::new("m.txt", text.clone()), &club);
        let Some(session) = reading.session else { continue };
        let mut known = values(&session);
        known.extend(
            intake.findings.iter().flat_map(|finding| &finding.labels).map(|label| label.place),
        );
        let is_known = |at: usize| {
            known
                .iter()
                .any(|place| place.file == FileId::MAIN && (place.start..place.end).contains(&at))
        };
        let sums: Vec<&str> = answer
            .split(|sign: char| !sign.is_ascii_digit())
            .filter(|sum| !sum.is_empty())
            .collect();
        let mut base = 0;
        for line in text.split_inclusive('\n') {
            let mut at = 0;
            while let Some(start) =
                line[at..].find(|sign: char| sign.is_ascii_digit()).map(|found| found + at)
            {
                let end = line[start..]
                    .find(|sign: char| !sign.is_ascii_digit() && sign != ',' && sign != '.')
                    .map_or(line.len(), |found| found + start);
                let number = line[start..end].trim_end_matches([',', '.']);
                let plain: String = number.chars().filter(char::is_ascii_digit).collect();
                let is_swum =
                    session.parts.iter().any(|part| swims(&part.lines, base + start, &plain));
                let is_bullet = line[..start].trim().is_empty()
                    && line[start + plain.len()..].starts_with(['.', ')']);
                let is_sum = sums.contains(&plain.as_str())
                    || line[end..].starts_with('k')
                    || line.contains("lengths");
                if !is_known(base + start) && !is_swum && !is_bullet && !is_sum {
                    lost.push(format!("{}: {number} in {}", path.display(), line.trim()));
                }
                at = end;
            }
            base += line.len();
        }
    }
    assert!(lost.is_empty(), "{}", lost.join("\n"));
}
