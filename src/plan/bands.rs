//! The share of the distance each part may have, by level and, for recovery, by goal.

use crate::check::CheckedSession;
use crate::reader::trade_words::TradeWord;
use crate::session::ShareBand;
use crate::session::words::{Goal, Level, PartKind};

/// One range for each kind of part, in the order they are swum.
type LevelShares = [Option<(u32, u32)>; 5];

/// Least and most share of a part in per cent; `None` where the level has no such part.
/// Common practice, no published source; a club file can say otherwise.
const BANDS: [(Level, LevelShares); 3] = [
    (Level::Beginner, [Some((10, 20)), None, Some((60, 80)), None, Some((10, 20))]),
    (
        Level::Improver,
        [Some((10, 20)), Some((5, 15)), Some((50, 70)), Some((0, 15)), Some((10, 20))],
    ),
    (
        Level::Advanced,
        [Some((10, 20)), Some((5, 20)), Some((40, 70)), Some((5, 20)), Some((5, 20))],
    ),
];

/// Shares that an experienced coach would change, whatever the level and the goal: a part with less
/// or more. Between these and a level's usual ones is good practice of many kinds: a long warm-up
/// before sprints, a short cool-down at the end of a lunch hour. Common practice, no source.
const EXTREMES: LevelShares =
    [Some((5, 40)), Some((0, 40)), Some((30, 90)), Some((0, 40)), Some((1, 35))];

/// A recovery session has no work to make room for: its main set may take so many per cent less
/// of the distance, its warm-up and cool-down so many more. Common practice, no source.
const RECOVERY_MAIN_LESS: u32 = 20;
const RECOVERY_EASY_MORE: u32 = 10;

/// The least and the most that parts of one kind may have before it is out of all proportion.
pub fn extremes(kind: PartKind) -> Option<ShareBand> {
    let at = PartKind::ALL.iter().position(|(known, _)| *known == kind)?;
    let (least, most) = EXTREMES.get(at).copied().flatten()?;
    Some(ShareBand { least, most })
}

fn for_goal(band: ShareBand, goal: Goal, kind: PartKind) -> ShareBand {
    let ShareBand { least, most } = band;
    match (goal, kind) {
        (Goal::Recovery, PartKind::MainSet) => {
            ShareBand { least: least.saturating_sub(RECOVERY_MAIN_LESS), most }
        }
        (Goal::Recovery, PartKind::WarmUp | PartKind::CoolDown) => {
            ShareBand { least, most: most.saturating_add(RECOVERY_EASY_MORE) }
        }
        _ => band,
    }
}

/// Whether `part` of `whole` lengths is a share inside `band`, ends included. Compared exactly:
/// a hundredfold of the part against per cent times the whole.
pub fn holds(band: ShareBand, part: u64, whole: u64) -> bool {
    let (part, whole) = (u128::from(part) * 100, u128::from(whole));
    (u128::from(band.least) * whole..=u128::from(band.most) * whole).contains(&part)
}

/// The band of the parts of one kind, in per cent of the session's distance: the club's own, else
/// the program's. `None` where the level has no such part, or the session says no goal.
pub fn band(session: &CheckedSession, kind: PartKind) -> Option<ShareBand> {
    of_club(session, kind).or_else(|| usual(judged_as(session), session.goal_said()?, kind))
}

/// The club's own band for the session's level.
pub fn of_club(session: &CheckedSession, kind: PartKind) -> Option<ShareBand> {
    let level = judged_as(session);
    let levels = &session.club.as_ref()?.bands.levels;
    let (_, of_level) = levels.iter().find(|(known, _)| *known == level)?;
    of_level.parts.iter().find(|(known, _)| *known == kind).map(|(_, band)| band.value)
}

/// The program's own band of the parts of one kind, where no club says otherwise.
pub fn usual(level: Level, goal: Goal, kind: PartKind) -> Option<ShareBand> {
    let (_, bands) = BANDS.iter().find(|(known, _)| *known == level)?;
    let at = PartKind::ALL.iter().position(|(known, _)| *known == kind)?;
    let (least, most) = bands.get(at).copied().flatten()?;
    Some(for_goal(ShareBand { least, most }, goal, kind))
}

/// A beginner session with a pre-set or a post set is judged as an improver's.
pub fn judged_as(session: &CheckedSession) -> Level {
    let level = session.level.value;
    let has = |kind| session.parts.iter().any(|part| part.kind.value == kind);
    match level {
        Level::Beginner if has(PartKind::PreSet) || has(PartKind::PostSet) => Level::Improver,
        level => level,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 10 to 20 % of 1,000 is 100 to 200.
    #[test]
    fn a_share_at_the_end_of_its_band_is_inside() {
        let band = ShareBand { least: 10, most: 20 };
        let shares = [99, 100, 200, 201].map(|part| holds(band, part, 1000));
        assert_eq!(shares, [false, true, true, false]);
        assert!(holds(band, u64::MAX / 10 + 1, u64::MAX));
    }
}
