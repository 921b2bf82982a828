//! What is usual in a club and stands in for what a session leaves out.

use super::keys::{club as of_club, session as key};
use super::rules::PACE_WITHOUT_UNIT;
use super::{Club, Lane};
use crate::finding::{Finding, Place, Placed};
use crate::measure::{Pool, Seconds, Unit};
use crate::reader::keys::Entry;
use crate::reader::rules::UNKNOWN_WORD;
use crate::reader::table::TableReader;
use crate::reader::trade_words::TradeWord;
use crate::reader::value::OwnWords;
use crate::session::words::Effort;

/// Whether a club says what a session has to say else.
pub(super) fn has(club: Option<&Club>, entry: &Entry) -> bool {
    let Some(club) = club else { return false };
    let is = |key: &Entry| entry.name == key.name;
    is(&of_club::POOL.entry) && club.pool.is_some()
        || is(&of_club::PACE.entry) && club.pace.is_some()
        || is(&of_club::LEVEL.entry) && club.level.is_some()
}

/// The club's own words for efforts. The program's five stay what they are.
pub(super) fn words(club: Option<&Club>) -> OwnWords {
    let mut own = OwnWords::default();
    let all = club.into_iter().flat_map(|club| &club.efforts);
    for effort in all.filter(|effort| Effort::from_text(&effort.word.value).is_none()) {
        own.add(&effort.word.value, effort.counts.value.text());
    }
    own
}

/// The session's own pace, else the club's, and the unit of its 100 where that is said.
pub(super) fn pace(
    table: &TableReader<'_>,
    club: Option<&Club>,
    found: &mut Vec<Finding>,
) -> (Option<Placed<Seconds>>, Option<Unit>) {
    if table.has(&key::PACE.entry) {
        let pace = table.take(&key::PACE, found);
        let unit = pace.as_ref().and_then(|pace| pace.value.unit);
        return (pace.map(|pace| pace.map(|pace| pace.per_100)), unit);
    }
    let usual = club.and_then(|club| Some((club.pace.clone()?, club.pace_unit)));
    usual.map_or((None, None), |(pace, unit)| (Some(pace), unit))
}

/// The session's own lanes, else the club's. A bare pace of a lane goes by the session's pace; where
/// that is the club's, it goes by the session's pool.
pub(super) fn lanes(
    table: &TableReader<'_>,
    club: Option<&Club>,
    pool: Option<Pool>,
    found: &mut Vec<Finding>,
) -> Vec<Lane> {
    if table.has(&key::LANES.entry) {
        let mut lanes = table.take(&key::LANES, found).unwrap_or_default();
        for lane in lanes.iter_mut().filter(|_| !table.has(&key::PACE.entry)) {
            lane.pace_unit = lane.pace_unit.or(pool.map(Pool::unit));
        }
        return lanes;
    }
    let Some(club) = club else { return Vec::new() };
    let mut lanes = club.lanes.clone();
    // A count of strokes is of the club's own pool.
    if club.pool.as_ref().map(|pool| pool.value) != pool {
        lanes.iter_mut().for_each(|lane| lane.strokes_per_length = None);
    }
    lanes
}

/// The program's five words mean what they do, in any club.
pub(super) fn check_words(club: &Club, found: &mut Vec<Finding>) {
    for effort in &club.efforts {
        let word = &effort.word;
        if Effort::from_text(&word.value).is_some_and(|known| known != effort.counts.value) {
            let title = format!("\"{}\" is one of the program's own efforts", word.value);
            found.push(
                Finding::new(&UNKNOWN_WORD, title)
                    .label(word.place, "it counts as itself")
                    .help("take another word, or change the factors on swim time in [speed]"),
            );
        }
    }
}

/// Every pace of a club says of which unit its 100 is, since sessions in any pool take it up: a bare
/// one is of the club's own pool.
pub(super) fn say_units(club: &mut Club, found: &mut Vec<Finding>) {
    let pool = club.pool.as_ref().map(|pool| pool.value.unit());
    club.pace_unit = club.pace_unit.or(pool);
    let usual = club.pace_unit.or(pool);
    let mut bare: Vec<Place> = Vec::new();
    bare.extend(club.pace.iter().filter(|_| usual.is_none()).map(|pace| pace.place));
    for lane in &mut club.lanes {
        lane.pace_unit = lane.pace_unit.or(usual);
        bare.extend(lane.pace_unit.is_none().then_some(lane.pace.place));
    }
    let Some(first) = bare.first() else { return };
    let title = "the club's paces do not say whether they are per 100 m or per 100 yd";
    found.push(
        Finding::new(&PACE_WITHOUT_UNIT, title)
            .label(*first, "per 100 of what?")
            .help("write the club's own pool as well: pool = \"25 m\"")
            .help("or the unit behind each pace, as \"2:10 per 100 yd\""),
    );
}
