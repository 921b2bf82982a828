//! The text of a drafted block file.

use std::fmt::Write;

use super::super::dates::weekday;
use super::super::progression::Step;
use super::BlockWish;
use crate::reader::trade_words::TradeWord;
use crate::reader::{quoted, quoted_list};

/// The file of a session; week and session are counted from 0 here and from 1 in its name.
pub(super) fn session_file(week: usize, session: usize) -> String {
    format!("w{:02}-s{}.toml", week + 1, session + 1)
}

/// The block file. Writing to a string cannot fail.
pub(super) fn block_text(wish: &BlockWish, steps: &[Step]) -> String {
    let title = wish.title.clone().unwrap_or_else(|| {
        let weeks = if wish.weeks == 1 { "week" } else { "weeks" };
        format!("{} {weeks} to {}", wish.weeks, wish.to.spoken())
    });
    let mut keys = vec![("title", quoted(&title))];
    keys.extend(wish.club.as_ref().map(|club| ("club", quoted(club))));
    keys.extend(wish.day.map(|day| {
        let weekday = weekday(day).map_or(String::new(), |day| format!("{} ", day.text()));
        ("note", quoted(&format!("for {weekday}{day}, and the week before it is easier")))
    }));
    keys.push(("from", quoted(&wish.from.spoken())));
    keys.push(("goal", quoted(&wish.to.spoken())));
    keys.extend(wish.begins.map(|begins| ("begins", begins.to_string())));
    if !wish.days.is_empty() {
        keys.push(("days", quoted_list(wish.days.iter().map(|day| day.text()))));
    }
    keys.extend(wish.starts.map(|starts| ("starts", quoted(&starts.to_string()))));
    keys.push(("growth", wish.growth_percent.to_string()));
    keys.push(("longest_growth", wish.longest_growth_percent.to_string()));
    let mut text = String::from(
        "# Drafted. A week grows by at most so many per cent over the last full one; every fourth is\n\
         # easier. The last session of a week holds its longest swim. Change what your swimmers need\n\
         # changed, and look with: deckcard block show block.toml\n",
    );
    let width = keys.iter().map(|(key, _)| key.len()).max().unwrap_or(0);
    for (key, value) in keys {
        let _ = writeln!(text, "{key:width$} = {value}");
    }
    for (index, step) in steps.iter().enumerate() {
        let longest = wish.pool.distance(step.longest).with_commas();
        let _ = write!(text, "\n# Week {}: {longest} without a stop.\n[[week]]\n", index + 1);
        if step.easier {
            text.push_str("easier   = true\n");
        }
        let sessions = 0..step.sessions.len();
        let names: Vec<String> = sessions.map(|session| session_file(index, session)).collect();
        let _ = writeln!(text, "sessions = {}", quoted_list(names.iter().map(String::as_str)));
    }
    text
}
