//! Reads a pattern file: every fault at once, each with its place.

use toml::de::DeValue;

use super::keys;
use super::pattern::{
    Cues, OneOrMore, PatternFile, PatternLine, PatternSet, RestRange, RoundsRange, SetPattern,
    Skill, SwimRange, Wait,
};
use super::wording::wordings;
use crate::check::rules::REST_AND_SEND_OFF;
use crate::finding::{FileId, Finding};
use crate::measure::LIMITS;
use crate::reader::keys::Form;
use crate::reader::rules::{MISSING_KEY, OVER_LIMIT, UNREADABLE_TIME};
use crate::reader::table::TableReader;
use crate::reader::trade_words::TradeWord;
use crate::reader::value::{Node, Readable};
use crate::reader::{FileKind, root_reader, syntax};
use crate::session::rules::UNREADABLE_SWIM;
use crate::session::words::{Level, Stroke};
use crate::source::Source;

/// What a pattern file holds, as far as it could be read; or what the file is, where it is surely
/// none. What is wrong with it goes to `found`; what does not stop it to `remarks`, where it is asked
/// for.
pub(super) fn read(
    source: &Source,
    found: &mut Vec<Finding>,
    remarks: Option<&mut Vec<Finding>>,
) -> Result<Option<PatternFile>, FileKind> {
    let mut own = Vec::new();
    let tree = syntax::parse(source, FileId::MAIN, &mut own);
    if let Some(kind) = tree.other_than(FileKind::Patterns) {
        return Err(kind);
    }
    found.append(&mut own);
    let Some(root) = tree.root else { return Ok(None) };
    if let Some(remarks) = remarks {
        wordings(root.get_ref(), remarks);
    }
    let table = root_reader(root.get_ref(), &keys::PATTERNS, source, FileId::MAIN, found);
    use keys::patterns as key;
    let goal = table.take(&key::GOAL, found);
    let skills = table.take(&key::SKILLS, found).unwrap_or_default();
    let patterns = table.take(&key::PATTERNS, found).unwrap_or_default();
    Ok(goal.map(|goal| PatternFile { goal, skills, patterns }))
}

impl Readable for Skill {
    const FORM: Form = Form::Table(&keys::SKILL);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &keys::SKILL, found)?;
        use keys::skill as key;
        let every_level = || Level::ALL.iter().map(|(level, _)| *level).collect();
        let focus = table.take(&key::FOCUS, found);
        let words = table.take(&key::WORDS, found).unwrap_or_default();
        let stroke = table.take(&key::STROKE, found).unwrap_or(Stroke::Free);
        let levels = table.take(&key::LEVELS, found).map_or_else(every_level, |levels| levels.0);
        let titles = table.take(&key::TITLES, found);
        let cues = table.take(&key::CUES, found);
        Some(Skill { focus: focus?, words, stroke, levels, titles: titles?.0, cues: cues? })
    }
}

impl Readable for Cues {
    const FORM: Form = Form::Table(&keys::CUES);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &keys::CUES, found)?;
        use keys::cues as key;
        let mut cues = |key| table.take(key, found).unwrap_or_default();
        let (easy, drill, fast) = (cues(&key::EASY), cues(&key::DRILL), cues(&key::FAST));
        let (kick, pull, scull) = (cues(&key::KICK), cues(&key::PULL), cues(&key::SCULL));
        let count = cues(&key::COUNT);
        let swim = table.take(&key::SWIM, found)?.0;
        Some(Cues { easy, drill, swim, fast, kick, pull, scull, count })
    }
}

impl Readable for SetPattern {
    const FORM: Form = Form::Table(&keys::PATTERN);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let table = TableReader::open(node, &keys::PATTERN, found)?;
        use keys::pattern as key;
        let (id, name) = (table.take(&key::ID, found), table.take(&key::NAME, found));
        let why = table.take(&key::WHY, found);
        let (parts, levels) = (table.take(&key::PARTS, found), table.take(&key::LEVELS, found));
        let skills = table.take(&key::SKILLS, found).unwrap_or_default();
        let lines = table.take(&key::SETS, found);
        Some(SetPattern {
            id: id?,
            name: name?,
            why: why?,
            parts: parts?.0,
            levels: levels?.0,
            skills,
            lines: lines?.0,
        })
    }
}

impl Readable for PatternLine {
    const FORM: Form = Form::AnyTable(|| vec![&keys::PATTERN_SET, &keys::PATTERN_ROUNDS]);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let is_rounds = matches!(node.value, DeValue::Table(table)
            if !table.contains_key("swim") && (table.contains_key("rounds") || table.contains_key("sets")));
        if !is_rounds {
            return PatternSet::read(node, found).map(PatternLine::Set);
        }
        let table = TableReader::open(node, &keys::PATTERN_ROUNDS, found)?;
        let counts = table.take(&keys::rounds::ROUNDS, found);
        let sets = table.take(&keys::rounds::SETS, found);
        Some(PatternLine::Rounds { counts: counts?.0, sets: sets?.0 })
    }
}

impl Readable for PatternSet {
    const FORM: Form = Form::Table(&keys::PATTERN_SET);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let before = found.len();
        let table = TableReader::open(node, &keys::PATTERN_SET, found)?;
        use keys::set as key;
        let swim = table.take(&key::SWIM, found);
        let wait = match (table.take(&key::REST, found), table.take(&key::ON, found)) {
            (Some(_), Some(_)) => {
                found.push(
                    Finding::new(&REST_AND_SEND_OFF, "a set has both a rest and a send-off")
                        .label(node.place, "")
                        .help("keep one: rest = \"15-25 s\" or on = \"10-20 s\""),
                );
                None
            }
            (Some(rest), None) => Some(Wait::Rest(rest)),
            (None, Some(on)) => Some(Wait::SendOff(on)),
            (None, None) => {
                // What seems missing may only be misspelt.
                if found.len() == before {
                    found.push(
                        Finding::new(&MISSING_KEY, "a set has neither a rest nor a send-off")
                            .label(node.place, "")
                            .help("write: rest = \"15-25 s\" or on = \"10-20 s\""),
                    );
                }
                None
            }
        };
        let effort = table.take(&key::EFFORT, found);
        let pattern = table.take(&key::PATTERN, found);
        let think = table.take(&key::THINK, found);
        let cue = table.take(&key::CUE, found);
        let strokes = table.take(&key::STROKES, found);
        let fixed = table.take(&key::FIXED, found).unwrap_or_default();
        let gear = table.take(&key::GEAR, found).unwrap_or_default();
        let at_hand = table.take(&key::AT_HAND, found).unwrap_or_default();
        let (swim, wait) = (swim?, wait?);
        Some(PatternSet { swim, wait, effort, pattern, think, cue, strokes, fixed, gear, at_hand })
    }
}

impl<T: Readable> Readable for OneOrMore<T> {
    const FORM: Form = Vec::<T>::FORM;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let all = Vec::<T>::read(node, found)?;
        if matches!(node.value, DeValue::Array(items) if items.is_empty()) {
            let name = node.entry.name;
            found.push(
                Finding::new(&MISSING_KEY, format!("the list {name} is empty"))
                    .label(node.place, "")
                    .help(format!("write: {}", node.entry.as_written())),
            );
            return None;
        }
        Some(OneOrMore(all))
    }
}

impl Readable for RoundsRange {
    const FORM: Form = Form::List(&Form::Count);
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let DeValue::Array(items) = node.value else {
            found.push(node.wrong_kind(Self::FORM));
            return None;
        };
        if items.is_empty() || items.len() > MOST_NUMBERS {
            found.push(too_many_numbers(node, items.len()));
            return None;
        }
        // The bound is each number's and not the list's.
        Some(Self(items.iter().filter_map(|item| u32::read(node.inner(item), found)).collect()))
    }
}

/// No pattern needs more numbers to choose from in one place.
const MOST_NUMBERS: usize = 20;

fn too_many_numbers(node: Node<'_>, count: usize) -> Finding {
    let name = node.entry.name;
    let title = format!("{name} has {count} numbers to choose from; it takes 1 to {MOST_NUMBERS}");
    Finding::new(&OVER_LIMIT, title)
        .label(node.place, "")
        .help(format!("write: {}", node.entry.as_written()))
}

impl Readable for SwimRange {
    const FORM: Form = Form::Swim;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text(Self::FORM, found)?;
        let swim = match SwimRange::parse(text) {
            Ok(swim) => swim,
            Err(fault) => {
                let title = format!("the swim \"{text}\" cannot be read");
                found.push(
                    Finding::new(&UNREADABLE_SWIM, title)
                        .label(node.place, fault)
                        .help(format!("write it as in swim = {}", node.entry.example)),
                );
                return None;
            }
        };
        let most = swim.repeats.len().max(swim.each.len()).max(swim.steps.len());
        if most > MOST_NUMBERS {
            found.push(too_many_numbers(node, most));
            return None;
        }
        let each = &LIMITS.repeat_distance;
        let bounds = [(&swim.repeats, &LIMITS.repeats), (&swim.each, each), (&swim.steps, each)];
        for (numbers, bound) in bounds {
            if let Some(over) = numbers.iter().find(|number| !bound.holds(u64::from(**number))) {
                let title =
                    format!("{} cannot be {over}; it is {}", bound.what, bound.range_text());
                found.push(Finding::new(&OVER_LIMIT, title).label(node.place, ""));
                return None;
            }
        }
        Some(swim)
    }
}

impl Readable for RestRange {
    const FORM: Form = Form::Time;
    fn read(node: Node<'_>, found: &mut Vec<Finding>) -> Option<Self> {
        let text = node.text(Self::FORM, found)?;
        let range = RestRange::parse(text);
        if range.is_none() {
            let name = node.entry.name;
            found.push(
                Finding::new(&UNREADABLE_TIME, format!("\"{text}\" is not a range of rests"))
                    .label(node.place, "")
                    .help(format!(
                        "write the shorter one first, up to 600: {name} = \"15-25 s\" or {name} = \"110-150 %\""
                    )),
            );
        }
        range
    }
}
