//! The operators of a page, held against what may stand where.

use lopdf::Document;
use lopdf::content::Content;

/// Text objects, saved states and marked pieces open and close as ISO 32000-1 has it (8.2,
/// figure 9; 8.4.2; 14.6): none inside its own kind but saved states, and nothing left open.
pub fn balanced(document: &Document) {
    for (number, page) in document.get_pages() {
        let content = Content::decode(&document.get_page_content(page)).expect("content");
        let (mut text, mut pieces, mut saved) = (0, 0, Vec::new());
        for operation in content.operations {
            let operator = operation.operator.as_str();
            match operator {
                "BT" => text += 1,
                "ET" => text -= 1,
                "BDC" | "BMC" => pieces += 1,
                "EMC" => pieces -= 1,
                "q" => saved.push(pieces),
                // A piece begins and ends in one state.
                "Q" => assert_eq!(saved.pop(), Some(pieces), "page {number}: Q"),
                "Td" | "TJ" | "Tj" => assert_eq!(text, 1, "page {number}: {operator}"),
                "re" | "m" | "cm" | "Do" | "f" | "S" => {
                    assert_eq!(text, 0, "page {number}: {operator}");
                }
                _ => {}
            }
            assert!((0..=1).contains(&text), "page {number}: {operator}");
            assert!((0..=1).contains(&pieces), "page {number}: {operator}");
        }
        assert!(text == 0 && pieces == 0 && saved.is_empty(), "page {number}: left open");
    }
}
