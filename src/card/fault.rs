//! What the layout could not do.

use thiserror::Error;

use crate::finding::{Place, Placed};
use crate::plan::Plan;
use crate::typeset::face;

/// Something the layout could not do.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Fault {
    /// A set, heading or the head that does not fit a card even in the smallest type.
    /// It is missing from the cards.
    #[error("this does not fit on a card, even in the smallest type")]
    DoesNotFit {
        /// Where it is written.
        place: Option<Place>,
    },
    /// Type had to be made smaller than the reading distance asks for.
    #[error("type had to be set at {percent} % of the size the reading distance asks for")]
    BelowReadingSize {
        /// Per cent of the least size.
        percent: u32,
    },
    /// Characters no embedded font has. They are left out.
    #[error("no font has the characters {characters:?}")]
    MissingGlyphs {
        /// They.
        characters: Vec<char>,
        /// Where they are written.
        place: Place,
    },
}

impl Fault {
    /// Whether something the coach wrote is missing from the cards for want of room.
    pub fn leaves_out(&self) -> bool {
        matches!(self, Fault::DoesNotFit { .. })
    }

    /// Whether it comes of the size of the card, and not of what is written.
    pub fn is_of_size(&self) -> bool {
        matches!(self, Fault::DoesNotFit { .. } | Fault::BelowReadingSize { .. })
    }
}

/// Characters of the coach's own text that no font has.
pub(super) fn missing_glyphs(plan: &Plan) -> Vec<Fault> {
    let mut texts: Vec<&Placed<String>> = vec![&plan.title];
    texts.extend(&plan.focus);
    texts.extend(&plan.club);
    texts.extend(plan.lane.as_ref().map(|lane| &lane.name));
    texts.extend(&plan.gear);
    for part in &plan.parts {
        texts.extend(&part.title);
        for set in part.sets() {
            texts.extend(&set.cue);
            texts.extend(&set.gear);
        }
    }
    let mut faults = Vec::new();
    for text in texts {
        let characters = face::missing(&text.value);
        if !characters.is_empty() {
            faults.push(Fault::MissingGlyphs { characters, place: text.place });
        }
    }
    faults
}
