//! The library of patterns and skills: read from the program's own files and a club's.

use thiserror::Error;

use super::pattern::{Cues, PatternFile, SetPattern, Skill, Think};
use super::{DraftError, Wish};
use crate::advice::focus::stems;
use crate::reader::nearest;
use crate::session::words::{Goal, Level, PartKind, Stroke};

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
    files: Vec<PatternFile>,
}

/// Why a pattern file could not be used.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum LibraryError {
    /// Not TOML, a key wrong or missing; the reader's own words, with the line.
    #[error("{0}")]
    Unreadable(String),
    /// A pattern that no session could use.
    #[error("pattern \"{id}\": {fault}")]
    Pattern {
        /// Its id.
        id: String,
        /// What is wrong with it.
        fault: &'static str,
    },
    /// A pattern with an id that another has.
    #[error("there are two patterns \"{0}\": give one of them another id")]
    SameId(String),
    /// A skill that leaves the card without words.
    #[error(
        "skill \"{0}\" needs a title and a cue for whole swims: titles = [\"...\"], cues = {{ swim = [\"...\"] }}"
    )]
    Skill(String),
    /// A pattern that names a skill there is not.
    #[error("pattern \"{id}\" serves the skill \"{skill}\", which no file has")]
    UnknownSkill {
        /// The pattern's id.
        id: String,
        /// The skill as named.
        skill: String,
    },
}

/// What is told of a pattern.
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

impl Library {
    /// The program's own patterns.
    pub fn built_in() -> Result<Self, LibraryError> {
        let mut library = Self::default();
        for (name, text) in BUILT_IN {
            let file = read(text).map_err(|error| match error {
                LibraryError::Unreadable(words) => {
                    LibraryError::Unreadable(format!("{name}: {words}"))
                }
                error => error,
            })?;
            library.files.push(file);
        }
        library.cross_check()?;
        Ok(library)
    }

    /// These and those of a club's own pattern file, given as its text. The club's come first.
    pub fn with(mut self, own: &str) -> Result<Self, LibraryError> {
        self.files.insert(0, read(own)?);
        self.cross_check()?;
        Ok(self)
    }

    fn cross_check(&self) -> Result<(), LibraryError> {
        let mut ids: Vec<&str> = Vec::new();
        for pattern in self.files.iter().flat_map(|file| &file.patterns) {
            if ids.contains(&pattern.id.as_str()) {
                return Err(LibraryError::SameId(pattern.id.clone()));
            }
            ids.push(&pattern.id);
            for skill in &pattern.skills {
                if !self.skills().any(|known| known.focus == *skill) {
                    let (id, skill) = (pattern.id.clone(), skill.clone());
                    return Err(LibraryError::UnknownSkill { id, skill });
                }
            }
        }
        Ok(())
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
                id: &pattern.id,
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
        let sets = self
            .files
            .iter()
            .flat_map(|file| &file.patterns)
            .flat_map(|pattern| pattern.sets.iter().flat_map(|line| line.each()));
        for piece in sets.flat_map(|set| set.gear.iter().chain(&set.at_hand)) {
            if !all.contains(&piece.as_str()) {
                all.push(piece);
            }
        }
        all
    }

    /// That the patterns know the wish's gear.
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

    /// Patterns that can make `part` for a wish with this skill, the variant's first.
    pub(super) fn choice(&self, wish: &Wish, skill: &Skill, part: PartKind) -> Vec<&SetPattern> {
        let known = self.skills().find(|known| known.titles == skill.titles);
        let name = known.map(|known| known.focus.as_str());
        let files = self.files.iter().filter(|file| file.goal == wish.goal);
        let fits = |pattern: &&SetPattern| {
            pattern.parts.contains(&part)
                && pattern.levels.contains(&wish.level)
                && (pattern.skills.is_empty()
                    || pattern.skills.iter().any(|skill| Some(skill.as_str()) == name))
                && needed(pattern).all(|piece| wish.gear.iter().any(|at_hand| at_hand == piece))
                && pattern
                    .sets
                    .iter()
                    .flat_map(|line| line.each())
                    .all(|set| serves(skill, set.think))
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
    let sets = pattern.sets.iter().flat_map(|line| line.each());
    sets.flat_map(|set| set.gear.iter().map(String::as_str))
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

fn read(text: &str) -> Result<PatternFile, LibraryError> {
    let file: PatternFile =
        toml::from_str(text).map_err(|error| LibraryError::Unreadable(error.to_string()))?;
    for skill in &file.skills {
        if skill.titles.is_empty() || skill.cues.swim.is_empty() {
            return Err(LibraryError::Skill(skill.focus.clone()));
        }
    }
    for pattern in &file.patterns {
        if let Some(fault) = fault(pattern) {
            return Err(LibraryError::Pattern { id: pattern.id.clone(), fault });
        }
    }
    Ok(file)
}

/// What would keep a pattern from ever making a part.
fn fault(pattern: &SetPattern) -> Option<&'static str> {
    if pattern.why.trim().is_empty() || pattern.name.trim().is_empty() {
        return Some("it needs a name and a why");
    }
    if pattern.why.contains('\n') {
        return Some("its why is one sentence on one line");
    }
    if pattern.parts.is_empty() || pattern.levels.is_empty() || pattern.sets.is_empty() {
        return Some("it needs parts, levels and sets");
    }
    for line in &pattern.sets {
        if line.sets.is_empty() != line.rounds.is_empty() {
            return Some("rounds and sets go together: { rounds = [2, 3], sets = [...] }");
        }
        if !line.sets.is_empty() && line.swim.is_some() {
            return Some("a line is either a swim or rounds");
        }
        for set in line.each() {
            if !set.rounds.is_empty() && line.swim.is_some() {
                return Some("rounds stand one deep");
            }
            if set.swim.is_none() {
                return Some("a set needs a swim: swim = \"4,6,8 x 50 free\"");
            }
            if set.rest.is_some() == set.on.is_some() {
                return Some("a set needs a rest or an on, and not both");
            }
        }
    }
    None
}
