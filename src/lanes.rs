//! Swimmers into lanes: a roster, the fairest split, and the lane tables for a session file.

#[cfg(feature = "roster")]
mod roster;
mod split;

use thiserror::Error;

use crate::finding::visible;
use crate::measure::{LIMITS, Seconds, Unit};
use crate::reader::quoted;

#[cfg(feature = "roster")]
pub use roster::{Remark, Roster, RosterError, RosterFault, read_roster};
pub use split::{Seating, SplitError, split};

/// Someone on the roster.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Swimmer {
    /// A name or initials.
    pub name: String,
    /// Pace per 100, as written or from test swims.
    pub pace: Seconds,
}

/// Where the names of a roster go; without a wish nowhere.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Names {
    /// Nowhere.
    #[default]
    Nowhere,
    /// Into a comment above each lane, which no card shows.
    Comments,
    /// Into the lane's name, which is on its cards.
    Cards,
}

/// A lane whose names are too long to be its name.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error(
    "the names of {lane} have {characters} characters; a card takes at most {}; write initials, \
     or keep the names in comments",
    LIMITS.text_characters.most
)]
pub struct NamesTooLong {
    /// The lane.
    pub lane: String,
    /// Characters of its name with all its swimmers.
    pub characters: usize,
}

/// The `[[lane]]` tables of a seating, as they are written in a session file: name, pace and number
/// of swimmers of each lane, with its names where `names` wants them; the paces say that they are per
/// 100 of `unit`, where that is known.
///
/// # Errors
///
/// The first lane whose names are longer than a lane's name may be.
pub fn lane_tables(
    seating: &[Seating],
    names: Names,
    unit: Option<Unit>,
) -> Result<String, NamesTooLong> {
    let per = unit.map_or(String::new(), |unit| format!(" per 100 {unit}"));
    let tables = seating.iter().enumerate().map(|(index, lane)| {
        let swimmers: Vec<&str> =
            lane.swimmers.iter().map(|swimmer| swimmer.name.as_str()).collect();
        let swimmers = one_line(&swimmers.join(", "));
        let mut name = format!("Lane {}", index + 1);
        let mut comment = String::new();
        match names {
            Names::Nowhere => {}
            Names::Comments => comment = format!("# {swimmers}\n"),
            Names::Cards => {
                let full = format!("{name}: {swimmers}");
                let characters = full.chars().count();
                if !LIMITS.text_characters.holds(characters as u64) {
                    return Err(NamesTooLong { lane: name, characters });
                }
                name = full;
            }
        }
        Ok(format!(
            "{comment}[[lane]]\nname     = {}\npace     = \"{}{per}\"\nswimmers = {}\n",
            quoted(&name),
            lane.pace(),
            lane.swimmers.len()
        ))
    });
    Ok(tables.collect::<Result<Vec<_>, _>>()?.join("\n"))
}

/// Text that cannot end a comment.
fn one_line(text: &str) -> String {
    text.chars().map(|char| if visible::steers(char) { ' ' } else { char }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lane_tables_carry_names_only_when_asked() {
        // 2:00, 2:10 and 3:00.
        let roster = [("Ada", 120), ("Bea", 130), ("Cid", 180)]
            .map(|(name, pace)| Swimmer { name: name.to_owned(), pace: Seconds::new(pace) });
        let seating = split(roster.to_vec(), 2, 4).expect("room for three");
        let tables = |names| lane_tables(&seating, names, None).expect("short names");
        assert_eq!(
            tables(Names::Nowhere),
            "[[lane]]\nname     = \"Lane 1\"\npace     = \"3:00\"\nswimmers = 1\n\n\
             [[lane]]\nname     = \"Lane 2\"\npace     = \"2:10\"\nswimmers = 2\n"
        );
        let yards = lane_tables(&seating, Names::Nowhere, Some(Unit::Yard)).expect("no names");
        assert!(yards.contains("pace     = \"3:00 per 100 yd\"\n"), "{yards}");
        assert!(tables(Names::Comments).starts_with("# Cid\n[[lane]]\nname     = \"Lane 1\""));
        assert!(tables(Names::Cards).contains("name     = \"Lane 2: Bea, Ada\""));
    }
}
