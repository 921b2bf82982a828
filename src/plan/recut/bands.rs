//! The share of the distance each part may have, by level.

use crate::check::CheckedSession;
use crate::session::ShareBand;
use crate::session::words::{Level, PartKind};

/// The program's own bands, in per cent. Common practice, no published source.
const BANDS: [(Level, [Option<(u32, u32)>; 5]); 3] = [
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

/// The band of the parts of one kind, the club's before the program's.
///
/// A beginners' session with a pre-set is judged by the improvers' bands.
pub(super) fn band(session: &CheckedSession, kind: PartKind) -> Option<ShareBand> {
    let has_pre_set = session.parts.iter().any(|part| part.kind.value == PartKind::PreSet);
    let level = match session.level.value {
        Level::Beginner if has_pre_set => Level::Improver,
        level => level,
    };
    let club = session.club.as_ref().and_then(|club| {
        let (_, bands) = club.bands.levels.iter().find(|(of, _)| *of == level)?;
        bands.parts.iter().find(|(of, _)| *of == kind).map(|(_, band)| band.value)
    });
    club.or_else(|| {
        let (_, bands) = BANDS.iter().find(|(of, _)| *of == level)?;
        let (least, most) = (*bands.get(kind as usize)?)?;
        Some(ShareBand { least, most })
    })
}
