//! The library of patterns and skills: read from the program's own files and a club's.

use std::sync::{Arc, OnceLock};

use thiserror::Error;

use super::pattern::{Cues, PatternFile, SetPattern, Skill, Think};
use super::wording::without_cautions;
use super::{DraftError, StrangeFocus, Wish, read, rules};
use crate::advice::focus::stems;
use crate::finding::{Finding, in_file_order};
use crate::reader::nearest;
use crate::session::words::{Goal, Level, PartKind, Stroke};
use crate::source::Source;

/// The files that come with the program, one for each goal.
const BUILT_IN: [(&str, &str); 7] = [
    ("ease.toml", include_str!("../../templates/patterns/ease.toml")),
    ("technique.toml", include_str!("../../templates/patterns/technique.toml")),
    ("endurance.toml", include_str!("../../templates/patterns/endurance.toml")),
    ("threshold.toml", include_str!("../../templates/patterns/threshold.toml")),
    ("speed.toml", include_str!("../../templates/patterns/speed.toml")),
    ("medley.toml", include_str!("../../templates/patterns/medley.toml")),
    ("recovery.toml", include_str!("../../templates/patterns/recovery.toml")),
];

/// Patterns and skills to draft from.
#[derive(Clone, Debug, Default)]
pub struct Library {
    files: Vec<Arc<PatternFile>>,
    remarks: Vec<Finding>,
}

/// A pattern file with faults; nothing is drafted from it.
#[derive(Clone, Debug, Error)]
#[error("{}", first_fault(file, findings))]
pub struct LibraryError {
    /// The file; the findings point into it.
    pub file: Source,
    /// Everything wrong with it, in the order of the file.
    pub findings: Vec<Finding>,
}

/// "own.toml:12: a pattern has no key \"thinks\"".
fn first_fault(source: &Source, findings: &[Finding]) -> String {
    let first = findings.first();
    let line = first.and_then(Finding::place).map_or(1, |place| source.position(place.start).line);
    let title = first.map_or("it cannot be used", |finding| finding.title.as_str());
    format!("{}:{line}: {title}", source.path())
}

/// What there is to say of a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PatternRecord<'a> {
    /// Its goal.
    pub goal: Goal,
    /// Its id.
    pub id: &'a str,
    /// Its name.
    pub name: &'a str,
    /// Why a coach gives it.
    pub why: &'a str,
    /// Parts it can make.
    pub parts: &'a [PartKind],
    /// Whom it is for.
    pub levels: &'a [Level],
    /// Gear it needs.
    pub gear: Vec<&'a str>,
}

/// Reads a file of a club's own patterns beside the program's, and adds everything wrong with it
/// to `found`.
pub fn check_patterns(source: &Source, found: &mut Vec<Finding>) {
    // The program's own are held by a test; without them the file is still checked by itself.
    let library = Library::built_in().unwrap_or_default();
    let mut remarks = Vec::new();
    library.checked(source, found, Some(&mut remarks));
    found.append(&mut remarks);
}

impl Library {
    /// The program's own patterns. They are read once a run, however often they are asked for.
    ///
    /// # Errors
    ///
    /// Only where the program was built with a pattern file that has faults.
    pub fn built_in() -> Result<Self, LibraryError> {
        static READ: OnceLock<Result<Library, LibraryError>> = OnceLock::new();
        READ.get_or_init(|| {
            let mut library = Self::default();
            for (name, text) in BUILT_IN {
                // A test holds that there is nothing to remark on these.
                let file = library.read(&Source::new(name, text), None)?;
                library.files.push(Arc::new(file));
            }
            Ok(library)
        })
        .clone()
    }

    /// These and those of a club's own pattern file. The club's come first.
    ///
    /// # Errors
    ///
    /// Every fault of the file, with its place. Nothing of such a file is used.
    pub fn with(mut self, own: &Source) -> Result<Self, LibraryError> {
        let mut remarks = Vec::new();
        let file = self.read(own, Some(&mut remarks))?;
        in_file_order(&mut remarks);
        self.files.insert(0, Arc::new(without_cautions(file)));
        self.remarks = remarks;
        Ok(self)
    }

    /// What there is to say of the club's own file that does not stop it: wording that no draft is
    /// made with. The findings point into it.
    pub fn remarks(&self) -> &[Finding] {
        &self.remarks
    }

    /// A file that can be added to these, or everything wrong with it.
    fn read(
        &self,
        source: &Source,
        remarks: Option<&mut Vec<Finding>>,
    ) -> Result<PatternFile, LibraryError> {
        let mut findings = Vec::new();
        let file = self.checked(source, &mut findings, remarks);
        in_file_order(&mut findings);
        match file {
            Some(file) if findings.is_empty() => Ok(file),
            _ => Err(LibraryError { file: source.clone(), findings }),
        }
    }

    /// Reads a file and compares it with these: an id that is taken, a skill that no file describes.
    fn checked(
        &self,
        source: &Source,
        found: &mut Vec<Finding>,
        remarks: Option<&mut Vec<Finding>>,
    ) -> Option<PatternFile> {
        let before = found.len();
        let file = match read::read(source, found, remarks) {
            Ok(file) => file?,
            Err(kind) => {
                found.push(rules::no_patterns(kind));
                return None;
            }
        };
        let is_whole = found.len() == before;
        let others = || self.files.iter().flat_map(|file| &file.patterns);
        for (at, pattern) in file.patterns.iter().enumerate() {
            let earlier = file.patterns.iter().take(at).chain(others());
            if earlier.into_iter().any(|other| other.id.value == pattern.id.value) {
                found.push(rules::twice(&pattern.id));
            }
            // A skill that could not be read is no unknown one.
            let skills = pattern.skills.iter().filter(|_| is_whole);
            let known = || file.skills.iter().chain(self.skills());
            for skill in skills {
                if !known().any(|known| known.focus == skill.value) {
                    let focuses = known().map(|known| known.focus.as_str());
                    found.push(rules::unknown_skill(skill, focuses));
                }
            }
        }
        Some(file)
    }

    /// Skills that serve as a focus for a goal at a level, in the order in which variants
    /// take them.
    pub fn focuses(&self, goal: Goal, level: Level) -> Vec<&str> {
        self.skills_of(goal, level).map(|skill| skill.focus.as_str()).collect()
    }

    /// Every pattern, those of a club first.
    pub fn patterns(&self) -> impl Iterator<Item = PatternRecord<'_>> {
        self.files.iter().flat_map(|file| {
            file.patterns.iter().map(|pattern| PatternRecord {
                goal: file.goal,
                id: &pattern.id.value,
                name: &pattern.name,
                why: &pattern.why,
                parts: &pattern.parts,
                levels: &pattern.levels,
                gear: needed(pattern).collect(),
            })
        })
    }

    /// Every piece of gear that some pattern uses, each once.
    pub fn gear(&self) -> Vec<&str> {
        let mut all: Vec<&str> = Vec::new();
        let patterns = self.files.iter().flat_map(|file| &file.patterns);
        let sets = patterns.flat_map(SetPattern::sets);
        for piece in sets.flat_map(|set| set.gear.iter().chain(&set.at_hand)) {
            if !all.contains(&piece.as_str()) {
                all.push(piece);
            }
        }
        all
    }

    /// Refuses gear that no pattern uses.
    pub(super) fn check(&self, wish: &Wish) -> Result<(), DraftError> {
        let known = self.gear();
        match wish.gear.iter().find(|piece| !known.contains(&piece.as_str())) {
            None => Ok(()),
            Some(piece) => Err(DraftError::UnknownGear {
                piece: piece.clone(),
                nearest: nearest(piece, known.iter().copied()).map(str::to_owned),
                known: known.into_iter().map(str::to_owned).collect(),
            }),
        }
    }

    fn skills(&self) -> impl Iterator<Item = &Skill> {
        self.files.iter().flat_map(|file| &file.skills)
    }

    fn skills_of(&self, goal: Goal, level: Level) -> impl Iterator<Item = &Skill> {
        let files = self.files.iter().filter(move |file| file.goal == goal);
        let skills = files.flat_map(|file| &file.skills);
        skills.filter(move |skill| skill.levels.contains(&level))
    }

    /// The skill a wish is about: the one its focus speaks of, else one of the goal's. A
    /// focus that no skill knows is a skill of its own, with its own words as its only cue.
    pub(super) fn skill(&self, wish: &Wish) -> Skill {
        let Some(focus) = &wish.focus else {
            let all: Vec<&Skill> = self.skills_of(wish.goal, wish.level).collect();
            let at = usize::try_from(wish.variant).unwrap_or(0) % all.len().max(1);
            return all.get(at).map_or_else(|| own_words("long arms"), |skill| (*skill).clone());
        };
        let here = self.skills_of(wish.goal, wish.level);
        let best = best_match(here, focus).or_else(|| best_match(self.skills(), focus));
        let mut skill = best.cloned().unwrap_or_else(|| own_words(focus));
        skill.focus.clone_from(focus);
        skill
    }

    /// The focus of a wish, where no text for its goal has a word of it.
    pub(super) fn strange_focus(&self, wish: &Wish) -> Option<StrangeFocus> {
        let focus = wish.focus.as_ref()?;
        let wanted = stems(focus);
        let speaks = |text: &str| stems(text).iter().any(|stem| wanted.contains(stem));
        let files = || self.files.iter();
        let here = files().filter(|file| file.goal == wish.goal);
        if wanted.is_empty() || here.flat_map(|file| file.texts()).any(speaks) {
            return None;
        }
        let others =
            files().flat_map(|file| file.skills.iter().map(move |skill| (file.goal, skill)));
        let elsewhere = others
            .filter(|(_, skill)| skill.levels.contains(&wish.level))
            .find(|(_, skill)| skill.texts().any(speaks))
            .map(|(goal, skill)| (goal, skill.focus.clone()));
        let known = self.focuses(wish.goal, wish.level).into_iter().map(str::to_owned);
        let (focus, goal) = (focus.clone(), wish.goal);
        Some(StrangeFocus { focus, goal, elsewhere, known: known.collect() })
    }

    /// Patterns that can make `part` for a wish with this skill, the variant's first.
    pub(super) fn choice(&self, wish: &Wish, skill: &Skill, part: PartKind) -> Vec<&SetPattern> {
        let known = self.skills().find(|known| known.titles == skill.titles);
        let name = known.map(|known| known.focus.as_str());
        let files = self.files.iter().filter(|file| file.goal == wish.goal);
        let fits = |pattern: &&SetPattern| {
            pattern.parts.contains(&part)
                && pattern.levels.contains(&wish.level)
                && (pattern.skills.is_empty()
                    || pattern.skills.iter().any(|skill| Some(skill.value.as_str()) == name))
                && needed(pattern).all(|piece| wish.gear.iter().any(|at_hand| at_hand == piece))
                && pattern.sets().all(|set| serves(skill, set.think))
        };
        let mut all: Vec<&SetPattern> =
            files.flat_map(|file| &file.patterns).filter(fits).collect();
        let turn = usize::try_from(wish.variant).unwrap_or(0) % all.len().max(1);
        all.rotate_left(turn);
        all
    }
}

/// Whether the skill has words for a kind of set. A drill or a scull without its own words
/// is no drill at all; other sets can take a cue for whole swims.
fn serves(skill: &Skill, think: Option<Think>) -> bool {
    match think {
        Some(think @ (Think::Drill | Think::Scull)) => !skill.cues.of(think).is_empty(),
        _ => true,
    }
}

fn needed(pattern: &SetPattern) -> impl Iterator<Item = &str> {
    pattern.sets().flat_map(|set| set.gear.iter().map(String::as_str))
}

fn own_words(focus: &str) -> Skill {
    let mut title: String = focus.to_owned();
    if let Some(first) = title.get(..1).map(str::to_uppercase) {
        title.replace_range(..1, &first);
    }
    Skill {
        focus: focus.to_owned(),
        words: Vec::new(),
        stroke: Stroke::Free,
        levels: Vec::new(),
        titles: vec![title],
        cues: Cues { swim: vec![focus.to_owned()], ..Cues::default() },
    }
}

/// The skill with most words in common with a focus; the earlier of equals.
fn best_match<'a>(skills: impl Iterator<Item = &'a Skill>, focus: &str) -> Option<&'a Skill> {
    let wanted = stems(focus);
    let mut best: Option<(usize, &Skill)> = None;
    for skill in skills {
        // The skill's own name weighs twice its other words.
        let named = stems(&skill.focus);
        let other = stems(&skill.words.join(" "));
        let score = wanted
            .iter()
            .map(|stem| 2 * usize::from(named.contains(stem)) + usize::from(other.contains(stem)))
            .sum();
        if score > best.map_or(0, |(score, _)| score) {
            best = Some((score, skill));
        }
    }
    best.map(|(_, skill)| skill)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::wording::cautions_of;
    use crate::reader::trade_words::TradeWord;

    /// A draft prints no cautions, so nothing that may get into one may call for any.
    #[test]
    fn no_text_of_the_library_calls_for_a_caution() {
        let library = Library::built_in().expect("the program's own patterns");
        let mut texts: Vec<&str> = Vec::new();
        for skill in library.skills() {
            texts.push(&skill.focus);
            texts.extend(skill.titles.iter().map(String::as_str));
            texts.extend(cues(skill));
        }
        for pattern in library.files.iter().flat_map(|file| &file.patterns) {
            texts.extend([pattern.name.as_str(), pattern.why.as_str()]);
            texts.extend(pattern.sets().filter_map(|set| set.cue.as_deref()));
        }
        assert!(texts.len() > 500, "only {} texts were looked at", texts.len());
        for text in texts {
            assert_eq!(cautions_of(text), [], "{text}");
        }
    }

    /// As the rule focus-without-cue asks of a session: a word in common, little words left out.
    #[test]
    fn every_skill_has_a_cue_that_speaks_of_its_focus() {
        let library = Library::built_in().expect("the program's own patterns");
        for skill in library.skills() {
            let wanted = stems(&skill.focus);
            assert!(!wanted.is_empty(), "{}", skill.focus);
            let speaks = |cue: &str| stems(cue).iter().any(|stem| wanted.contains(stem));
            assert!(cues(skill).any(speaks), "no cue speaks of \"{}\"", skill.focus);
        }
    }

    fn cues(skill: &Skill) -> impl Iterator<Item = &str> {
        let kinds = Think::ALL.iter().map(|(think, _)| skill.cues.of(*think));
        kinds.flatten().map(String::as_str)
    }
}
