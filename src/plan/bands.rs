//! The share of the distance each part may have, by level.

use crate::check::CheckedSession;
use crate::reader::trade_words::TradeWord;
use crate::session::ShareBand;
use crate::session::words::{Level, PartKind};

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

/// The band of the parts of one kind: the club's own, else the program's.
pub fn band(session: &CheckedSession, kind: PartKind) -> Option<ShareBand> {
    let level = judged_as(session);
    let club = session.club.as_ref().and_then(|club| {
        let (_, of_level) = club.bands.levels.iter().find(|(known, _)| *known == level)?;
        of_level.parts.iter().find(|(known, _)| *known == kind).map(|(_, band)| band.value)
    });
    let usual = || {
        let (_, bands) = BANDS.iter().find(|(known, _)| *known == level)?;
        let at = PartKind::ALL.iter().position(|(known, _)| *known == kind)?;
        bands.get(at).copied().flatten().map(|(least, most)| ShareBand { least, most })
    };
    club.or_else(usual)
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
