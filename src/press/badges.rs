//! The club's badge, read from its file once a run.

use std::io::Read;
use std::sync::{Arc, Mutex, PoisonError};

use xxhash_rust::xxh3::xxh3_128;

use super::beside;
use super::rules::BADGE_UNREADABLE;
use crate::drawing::badge::{Badge, BadgeError};
use crate::finding::{Finding, Placed};
use crate::measure::LIMITS;
use crate::source::{Source, opened, reason};

/// A badge by the hash of its file.
struct Known {
    file: u128,
    grey: bool,
    badge: Arc<Badge>,
}

/// Badges read in this run: a club's sessions share one.
static KNOWN: Mutex<Vec<Known>> = Mutex::new(Vec::new());
/// A run over many clubs forgets the oldest.
const MOST_KNOWN: usize = 16;

/// The badge in a file, decoded once a run.
fn read_badge(bytes: &[u8], grey: bool) -> Result<Arc<Badge>, BadgeError> {
    // A panic elsewhere leaves whole badges behind, or none.
    let known = || KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    let file = xxh3_128(bytes);
    if let Some(known) = known().iter().find(|known| known.file == file && known.grey == grey) {
        return Ok(known.badge.clone());
    }
    let badge = Badge::read(bytes)?;
    let badge = Arc::new(if grey { badge.in_greys() } else { badge });
    let mut all = known();
    if all.len() >= MOST_KNOWN {
        all.remove(0);
    }
    all.push(Known { file, grey, badge: badge.clone() });
    Ok(badge)
}

/// The badge a club names, its file looked for beside the club's; in greys where it asks.
pub(super) fn badge(
    name: &Placed<String>,
    grey: bool,
    sources: &[Source],
    findings: &mut Vec<Finding>,
) -> Option<Arc<Badge>> {
    let unreadable = |reason: String| {
        Finding::new(&BADGE_UNREADABLE, format!("the badge \"{}\" cannot be read", name.value))
            .label(name.place, reason)
            .help("a badge is a PNG or JPEG file, named relative to the club file")
    };
    let path = beside(name, sources);
    let read = || -> Result<Arc<Badge>, String> {
        let file = opened(&path).map_err(|error| reason(&error))?;
        let size = file.metadata().map_err(|error| reason(&error))?.len();
        if size > LIMITS.badge_bytes.most {
            return Err(BadgeError::TooManyBytes.to_string());
        }
        let mut bytes = Vec::new();
        // No more than the limit: what a device gives has no end.
        let most = LIMITS.badge_bytes.most;
        file.take(most).read_to_end(&mut bytes).map_err(|error| reason(&error))?;
        read_badge(&bytes, grey).map_err(|error| error.to_string())
    };
    read().map_err(|reason| findings.push(unreadable(reason))).ok()
}
