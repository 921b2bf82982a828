//! The rules of stock files.

use crate::finding::{Severity, rules};

rules! {
    pub(crate) STOCK_UNUSABLE {
        id: "stock-unusable",
        severity: Severity::Error,
        summary: "the stock is unknown, or leaves no card to print on",
        why: "Size, margins and the size of type all follow from the stock.",
        unworried: "Never; leave the line out to print on A6.",
        before: "stock = \"A66\"",
        after: "stock = \"a6\"",
        source: "The stock files of this program.",
    }

    pub(super) UNREADABLE_SIZE {
        id: "unreadable-size",
        severity: Severity::Error,
        summary: "a size in a stock file lacks its unit, or is no size",
        why: "A card that was meant in inches and is cut in millimetres is a stack of waste.",
        unworried: "Never: the program would have to guess.",
        before: "width = \"105\"",
        after: "width = \"105 mm\"",
        source: "The stock files of this program.",
    }

    pub(super) NARROW_MARGIN {
        id: "narrow-margin",
        severity: Severity::Error,
        summary: "the margin is narrower than a laminate's seal",
        why: "Print under the seal lets water in between film and paper, and the card is lost.",
        unworried: "Never; a card that is not laminated loses little by 3 mm.",
        before: "margin = \"1 mm\"",
        after: "margin = \"5 mm\"",
        source: "Common practice: the film is sealed for 3 mm or more around the paper.",
    }

    pub(super) HOLES_OFF_EDGE {
        id: "holes-off-edge",
        severity: Severity::Error,
        summary: "the holes do not fit on the edge they are punched along",
        why: "A hole punched through the corner tears out, and the card is gone from the ring binder.",
        unworried: "Never; punch a longer edge, or use a lanyard hole.",
        before: "punch = \"two-hole\" along an edge of 74 mm",
        after: "bound = \"left\"",
        source: "ISO 838: holes 80 mm apart, on an edge of 100 mm at least. Three holes on US paper are \
                 108 mm apart.",
    }
}
