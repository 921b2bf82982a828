//! Swimmers into lanes: a roster, the fairest split, and the lane tables for a session file.

mod roster;
mod split;

pub use roster::{RosterError, RosterFault, Swimmer, read_roster};
pub use split::{Seating, SplitError, split};

/// The `[[lane]]` tables of a seating, as they are written in a session file.
///
/// Names are left out unless `with_names`; then they stand in a comment, which no card shows.
pub fn lane_tables(seating: &[Seating], with_names: bool) -> String {
    let tables = seating.iter().enumerate().map(|(index, lane)| {
        let names: Vec<&str> = lane.swimmers.iter().map(|swimmer| swimmer.name.as_str()).collect();
        let names =
            if with_names { format!("# {}\n", one_line(&names.join(", "))) } else { String::new() };
        format!(
            "{names}[[lane]]\nname     = \"Lane {}\"\npace     = \"{}\"\nswimmers = {}\n",
            index + 1,
            lane.pace(),
            lane.swimmers.len()
        )
    });
    tables.collect::<Vec<_>>().join("\n")
}

/// Text that cannot end a comment.
fn one_line(text: &str) -> String {
    text.chars().map(|char| if char.is_control() { ' ' } else { char }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lane_tables_carry_names_only_when_asked() {
        let roster = read_roster("name,pace\nAda,2:00\nBea,2:10\nCid,3:00\n").expect("a roster");
        let seating = split(roster, 2, 4).expect("room for three");
        let plain = lane_tables(&seating, false);
        assert_eq!(
            plain,
            "[[lane]]\nname     = \"Lane 1\"\npace     = \"3:00\"\nswimmers = 1\n\n\
             [[lane]]\nname     = \"Lane 2\"\npace     = \"2:10\"\nswimmers = 2\n"
        );
        assert!(lane_tables(&seating, true).starts_with("# Cid\n[[lane]]"));
    }
}
