//! The structure of a PDF, held against the rules of PDF/UA-1 (ISO 14289-1) and of tagged PDF
//! (ISO 32000-1, 14.7 and 14.8), read back by lopdf.

use std::collections::{BTreeMap, BTreeSet};

use deckcard::drawing::{Area, Card, Mark, Role};
use deckcard::sheet::{Faces, Imposition, Link, Paper, Placement, Sheet, Turn, impose};
use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};

use crate::command::Workdir;
use crate::support::documents::{cards, written};
use crate::support::marked::{card, dimensions};
use crate::support::operators::balanced;
use crate::support::plans;

fn name<'a>(dict: &'a Dictionary, key: &[u8]) -> &'a str {
    dict.get(key)
        .and_then(Object::as_name)
        .map(|n| std::str::from_utf8(n).expect("text"))
        .unwrap_or("")
}

/// An element as a reader meets it, depth first.
struct Met {
    path: String,
    id: ObjectId,
    marks: Vec<(ObjectId, i64)>,
    dict: Dictionary,
}

/// Every element in reading order; each names as its parent the one it was reached from.
fn walk(document: &Document) -> Vec<Met> {
    fn descend(
        document: &Document,
        id: ObjectId,
        parent: ObjectId,
        above: &str,
        met: &mut Vec<Met>,
    ) {
        let dict = document.get_dictionary(id).expect("an element").clone();
        assert_eq!(dict.get(b"P").and_then(Object::as_reference).expect("a parent"), parent);
        let path = format!("{above}/{}", name(&dict, b"S"));
        let page = dict.get(b"Pg").and_then(Object::as_reference).ok();
        let kids = match dict.get(b"K").expect("kids") {
            Object::Array(kids) => kids.clone(),
            one => vec![one.clone()],
        };
        let marks = kids.iter().filter_map(|kid| Some((page?, kid.as_i64().ok()?))).collect();
        met.push(Met { path: path.clone(), id, marks, dict });
        for kid in kids {
            if let Ok(kid) = kid.as_reference() {
                descend(document, kid, id, &path, met);
            }
        }
    }
    let root = catalog_entry(document, b"StructTreeRoot");
    let dict = document.get_dictionary(root).expect("the tree");
    let top = dict.get(b"K").and_then(Object::as_reference).expect("the document");
    let mut met = Vec::new();
    descend(document, top, root, "", &mut met);
    met
}

fn catalog_entry(document: &Document, key: &[u8]) -> ObjectId {
    document.catalog().and_then(|c| c.get(key)).and_then(Object::as_reference).expect("an entry")
}

/// The tags and numbers of the marked pieces of a page, in the order they are drawn. Nothing is
/// drawn outside one, and none stands in another.
fn pieces(document: &Document, page: ObjectId) -> Vec<(String, i64)> {
    let content = document.get_page_content(page);
    let content = Content::decode(&content).expect("content");
    let mut open = 0;
    let mut pieces = Vec::new();
    for operation in content.operations {
        match operation.operator.as_str() {
            "BDC" => {
                open += 1;
                let tag = operation.operands[0].as_name().expect("a tag").to_vec();
                let number = operation.operands[1].as_dict().and_then(|d| d.get(b"MCID"));
                let number = number.and_then(Object::as_i64).expect("a number");
                pieces.push((String::from_utf8(tag).expect("text"), number));
            }
            "BMC" => {
                open += 1;
                assert_eq!(operation.operands[0].as_name().expect("a tag"), b"Artifact");
            }
            "EMC" => open -= 1,
            "TJ" | "Tj" | "f" | "S" | "Do" => assert_eq!(open, 1, "drawn outside the tree"),
            _ => {}
        }
        assert!((0..=1).contains(&open));
    }
    assert_eq!(open, 0);
    pieces
}

/// The parent tree, flattened.
fn parent_tree(document: &Document) -> BTreeMap<i64, Object> {
    let root = document.get_dictionary(catalog_entry(document, b"StructTreeRoot")).expect("a tree");
    let tree = root.get(b"ParentTree").and_then(Object::as_dict).expect("a parent tree");
    let mut entries = BTreeMap::new();
    for kid in tree.get(b"Kids").and_then(Object::as_array).expect("leaves") {
        let leaf = document.get_dictionary(kid.as_reference().expect("a leaf")).expect("a leaf");
        let limits = leaf.get(b"Limits").and_then(Object::as_array).expect("limits");
        let nums = leaf.get(b"Nums").and_then(Object::as_array).expect("numbers");
        for pair in nums.chunks(2) {
            let key = pair[0].as_i64().expect("a key");
            assert!(
                key >= limits[0].as_i64().expect("low") && key <= limits[1].as_i64().expect("high")
            );
            assert!(entries.insert(key, pair[1].clone()).is_none(), "{key} twice");
        }
    }
    entries
}

/// All that must hold of any document; the elements, for more.
fn obeys(document: &Document) -> Vec<Met> {
    balanced(document);
    let met = walk(document);
    let parents = parent_tree(document);
    let mut told: BTreeSet<(ObjectId, i64)> = BTreeSet::new();
    for (number, page) in document.get_pages() {
        let dict = document.get_dictionary(page).expect("a page");
        assert_eq!(name(dict, b"Tabs"), "S", "page {number}");
        let streams = dict.get(b"Contents").and_then(Object::as_array).expect("streams");
        let mut streams = streams.iter().map(|id| id.as_reference().expect("a stream"));
        let mut once = BTreeSet::new();
        assert!(streams.all(|id| once.insert(id)), "not every reader takes a stream twice");
        let key = dict.get(b"StructParents").and_then(Object::as_i64).expect("a key");
        let owners = parents[&key].as_array().expect("owners");
        let pieces = pieces(document, page);
        assert_eq!(pieces.len(), owners.len());
        // Numbers count up as they are drawn, and reading order is drawing order.
        let drawn: Vec<i64> = pieces.iter().map(|(_, number)| *number).collect();
        assert_eq!(drawn, (0..drawn.len() as i64).collect::<Vec<_>>());
        let own =
            |one: &Met| one.marks.iter().filter(|(on, _)| *on == page).map(|(_, m)| *m).collect();
        for (mark, (tag, owner)) in pieces.iter().zip(owners).enumerate() {
            let owner = owner.as_reference().expect("an element");
            let element = met.iter().find(|one| one.id == owner).expect("in the tree");
            let marks: Vec<i64> = own(element);
            assert!(marks.contains(&(mark as i64)), "{}", element.path);
            assert!(marks.is_sorted(), "{}", element.path);
            assert_eq!(tag.0.as_str(), name(&element.dict, b"S"));
            assert!(told.insert((page, mark as i64)));
        }
    }
    let in_tree: usize = met.iter().map(|one| one.marks.len()).sum();
    assert_eq!(in_tree, told.len(), "a piece in the tree is on no page");
    for one in met.iter().filter(|one| name(&one.dict, b"S") == "Figure") {
        let alt = one.dict.get(b"Alt").and_then(lopdf::decode_text_string).expect("words");
        assert!(!alt.is_empty());
        let attributes = one.dict.get(b"A").and_then(Object::as_dict).expect("attributes");
        let area = attributes.get(b"BBox").and_then(Object::as_array).expect("an area");
        let area: Vec<f32> = area.iter().map(|edge| edge.as_float().expect("a number")).collect();
        assert!(area[0] < area[2] && area[1] < area[3], "{area:?}");
    }
    for one in &met {
        let last = one.path.rsplit('/').next().expect("a name");
        let above = one.path.rsplit('/').nth(1).unwrap_or("");
        // ISO 32000-1, table 336: what may stand in a list, and where its pieces may stand.
        match last {
            "LI" => assert_eq!(above, "L"),
            "LBody" => assert_eq!(above, "LI"),
            "L" => assert!(matches!(above, "Sect" | "LBody"), "{}", one.path),
            _ => assert!(!matches!(above, "L" | "LI"), "{}", one.path),
        }
    }
    let first_heading =
        met.iter().find(|one| one.path.ends_with("/H1") || one.path.ends_with("/H2"));
    assert!(
        first_heading.is_none_or(|one| one.path.ends_with("/H1")),
        "levels begin with the first"
    );
    met
}

#[test]
fn every_piece_of_every_card_is_in_the_tree_or_an_artifact() {
    for (plan_name, plan) in plans::all() {
        let cards = cards(&plan);
        let sections = cards.len();
        let sheets: Vec<Sheet> = cards.into_iter().map(Sheet::of).collect();
        let document = written(&sheets);
        let met = obeys(&document);
        let count = |end: &str| met.iter().filter(|one| one.path.ends_with(end)).count();
        assert_eq!(count("/Document/Sect"), sections, "{plan_name}");
        assert_eq!(count("/Sect/H1"), sections, "{plan_name}");
        // A figure for each clock face.
        let faces = |sheet: &Sheet| {
            let mut faces = 0;
            let mut last = &Role::Artifact;
            for item in sheet.placed()[0].card.items() {
                if matches!(item.role, Role::Figure(_)) && item.role != *last {
                    faces += 1;
                }
                last = &item.role;
            }
            faces
        };
        assert_eq!(count("/Figure"), sheets.iter().map(faces).sum::<usize>(), "{plan_name}");
    }
}

#[test]
fn sets_are_entries_and_rounds_hold_their_own_list() {
    let mut nested = 0;
    for (plan_name, plan) in plans::all() {
        let cards = cards(&plan);
        let swims: usize = plan.parts().iter().flat_map(|part| part.sets()).count();
        let labels: usize = cards
            .iter()
            .flat_map(|card| card.items())
            .filter(|item| matches!(item.role, Role::Rounds { .. }))
            .count();
        let document = written(&cards.into_iter().map(Sheet::of).collect::<Vec<_>>());
        let met = obeys(&document);
        let count = |end: &str| met.iter().filter(|one| one.path.ends_with(end)).count();
        let entries = count("/LI");
        nested += count("/Sect/L/LI/LBody/L/LI/LBody");
        // A label in one run is one entry; long ones may take more runs, never more entries.
        assert!(entries >= swims && entries <= swims + labels, "{plan_name}: {entries} of {swims}");
    }
    assert!(nested > 0, "none of the plans has rounds");
}

#[test]
fn a_card_twice_on_a_sheet_turned_is_told_twice() {
    let card: std::sync::Arc<Card> = cards(&plans::short()).remove(0).into();
    let side = card.trim().width_pt.max(card.trim().height_pt);
    let paper = deckcard::drawing::Size { width_pt: 2.0 * side, height_pt: 2.0 * side };
    let corners = [
        (Turn::None, 0.0, 0.0),
        (Turn::Quarter, side, 0.0),
        (Turn::Half, 0.0, side),
        (Turn::ThreeQuarters, side, side),
    ];
    let placed = corners.map(|(turn, x_pt, y_pt)| {
        let at = deckcard::drawing::Point { x_pt, y_pt };
        Placement { card: card.clone(), at, turn }
    });
    let sheet = Sheet::new(paper, placed.into()).expect("cards inside the paper");
    let met = obeys(&written(&vec![sheet.clone(); 4]));
    assert_eq!(met.iter().filter(|one| one.path == "/Document/Sect").count(), 16);
    let document = written(std::slice::from_ref(&sheet));
    let met = obeys(&document);
    assert_eq!(met.iter().filter(|one| one.path == "/Document/Sect").count(), 4);
    // Figures lie inside the card they are on, however it is turned.
    let side_pt = f64::from(side);
    let figures = met.iter().filter(|one| one.path.ends_with("/Figure"));
    for (index, figure) in figures.enumerate() {
        let area = figure.dict.get(b"A").and_then(Object::as_dict).expect("attributes");
        let area = area.get(b"BBox").and_then(Object::as_array).expect("an area");
        let edge = |at: usize| f64::from(area[at].as_float().expect("a number"));
        assert!(edge(0) >= 0.0 && edge(2) <= 2.0 * side_pt, "{index}");
        assert!(edge(1) >= 0.0 && edge(3) <= 2.0 * side_pt, "{index}");
    }
}

/// What the program prints beside plain cards: cutting sheets with backs behind fronts, a week's
/// hand-out, a binder.
#[test]
fn sheets_hand_outs_and_binders_obey_too() {
    let demo = |name: &str| {
        let data = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
        data.join(name).display().to_string()
    };
    let workdir = Workdir::new();
    let lanes = demo("sessions/three-lanes.toml");
    let sheets = ["print", &lanes, "--sheet", "a4", "--duplex", "long-edge", "--into", "s.pdf"];
    let [first, second] =
        ["four-in-turn", "guests-in-lane-one"].map(|name| demo(&format!("sessions/{name}.toml")));
    let week = ["print", "--week", &first, &second, &lanes, "-o", "out"];
    let binder = ["binder", &demo("blocks/first-400/block.toml"), "-o", "out"];
    for arguments in [&sheets[..], &week, &binder] {
        let ran = workdir.run(arguments);
        assert_eq!(ran.exit, 0, "{}", ran.err);
    }
    let out = std::fs::read_dir(workdir.path("out")).expect("a folder");
    let paths = out.map(|entry| entry.expect("an entry").path()).chain([workdir.path("s.pdf")]);
    let mut read = 0;
    for path in paths {
        obeys(&Document::load(&path).expect("reads"));
        read += 1;
    }
    // The sheets, a hand-out, and a binder for each pool.
    assert_eq!(read, 4);
}

#[test]
fn a_link_is_told_with_the_text_it_lies_on() {
    let mut sheets: Vec<Sheet> = cards(&plans::short()).into_iter().map(Sheet::of).collect();
    let title = sheets[0].placed()[0].card.items().iter().find_map(|item| match &item.mark {
        Mark::Text(run) if item.role == Role::Title => Some(run.clone()),
        _ => None,
    });
    let title = title.expect("a title");
    let area = Area {
        left_pt: title.at.x_pt,
        top_pt: title.at.y_pt - title.size_pt,
        right_pt: title.at.x_pt + title.width_pt,
        bottom_pt: title.at.y_pt + 2.0,
    };
    let empty = Area { left_pt: 1.0, top_pt: 1.0, right_pt: 2.0, bottom_pt: 2.0 };
    for area in [area, empty] {
        let link = Link { area, page: 0, label: "there".to_owned() };
        sheets[0] = sheets[0].clone().with_link(link);
    }
    let document = written(&sheets);
    let met = obeys(&document);
    let links: Vec<&Met> = met.iter().filter(|one| one.path.ends_with("/Link")).collect();
    let paths: Vec<&str> = links.iter().map(|one| one.path.as_str()).collect();
    assert_eq!(paths, ["/Document/Sect/H1/Link", "/Document/P/Link"]);
    let parents = parent_tree(&document);
    let (_, page) = document.get_pages().pop_first().expect("a page");
    let annotations = document.get_page_annotations(page).expect("annotations");
    assert_eq!(annotations.len(), links.len());
    for (annotation, link) in annotations.iter().zip(&links) {
        // ISO 14289-1, 7.18: in the tree by way of an object reference, with words.
        let key = annotation.get(b"StructParent").and_then(Object::as_i64).expect("a key");
        assert_eq!(parents[&key].as_reference().expect("an element"), link.id);
        assert!(annotation.has(b"Contents"));
        let kids = match link.dict.get(b"K").expect("kids") {
            Object::Array(kids) => kids.clone(),
            one => vec![one.clone()],
        };
        assert!(kids.iter().any(|kid| kid.as_dict().is_ok_and(|dict| dict.has_type(b"OBJR"))));
    }
}

#[test]
fn boxes_are_nested() {
    let size = dimensions("74 mm", "105 mm");
    let faces = Faces { size, front: card(size), back: None };
    let sheets = impose(&[faces], &Imposition::plain(Paper::A4)).expect("a sheet");
    assert!(sheets[0].bleed().is_some());
    let document = written(&sheets);
    let (_, page) = document.get_pages().pop_first().expect("a page");
    let page = document.get_dictionary(page).expect("a page");
    let edges = |key: &[u8]| -> Vec<f32> {
        let edges = page.get(key).and_then(Object::as_array).expect("a box");
        edges.iter().map(|edge| edge.as_float().expect("a number")).collect()
    };
    // ISO 32000-1, 14.11.2: each box inside the one before.
    let boxes = [edges(b"MediaBox"), edges(b"CropBox"), edges(b"BleedBox"), edges(b"TrimBox")];
    for pair in boxes.windows(2) {
        assert!(pair[0][0] <= pair[1][0] && pair[0][1] <= pair[1][1], "{pair:?}");
        assert!(pair[0][2] >= pair[1][2] && pair[0][3] >= pair[1][3], "{pair:?}");
    }
}

#[test]
fn the_catalog_and_the_packet_say_what_the_file_is() {
    let document = written(&[Sheet::of(cards(&plans::short()).remove(0))]);
    let catalog = document.catalog().expect("a catalog");
    let marked = catalog.get(b"MarkInfo").and_then(Object::as_dict).expect("MarkInfo");
    assert!(marked.get(b"Marked").and_then(Object::as_bool).expect("a truth"));
    let intents = catalog.get(b"OutputIntents").and_then(Object::as_array).expect("intents");
    let intent = intents[0].as_dict().expect("an intent");
    assert_eq!(name(intent, b"S"), "GTS_PDFA1");
    let packet = document.get_object(catalog_entry(&document, b"Metadata")).expect("a packet");
    let packet = packet.as_stream().and_then(|s| s.decompressed_content()).expect("text");
    let packet = String::from_utf8(packet).expect("UTF-8");
    // ISO 19005-2, 6.6.4 and ISO 14289-1, 5.
    for part in [
        "<pdfaid:part>2</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "<pdfuaid:part>1</pdfuaid:part>",
        "pdfaExtension:schemas",
    ] {
        assert!(packet.contains(part), "{part}");
    }
    // Nothing that a reader would run or fetch (ISO 19005-2, 6.5.1).
    assert!(!catalog.has(b"OpenAction") && !catalog.has(b"AA") && !catalog.has(b"Names"));
}

/// The words that a screen reader has in place of signs, in the order of the sets.
fn spoken(session: &str, card: &str) -> Vec<String> {
    let workdir = Workdir::new().file("s.toml", session);
    let ran = workdir.run(&["print", "s.toml", "--as-written", "-o", "cards"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let document = Document::load(workdir.path(card)).expect("a PDF");
    let words = |met: Met| {
        let words = met.dict.get(b"ActualText").ok()?;
        assert!(met.path.ends_with("/LBody/Span"), "{}", met.path);
        Some(lopdf::decode_text_string(words).expect("text"))
    };
    obeys(&document).into_iter().filter_map(words).collect()
}

#[test]
fn legs_steps_and_repeats_that_differ_are_told_in_words() {
    let set = "sets = [\"4 x 100 (50 fly, 50 free), rest 20 s\", \"100-200-100 free, rest 20 s\", \
         \"2 x 400 broken 200-100-50-50, 10 s, rest 1 min\", \"8 x 50 odd free, even back, rest 20 s\", \
         \"6 x 100 free, rest 20 s\", \"4 x 75 kick/drill/swim by 25, rest 20 s\", \"3 x 2 min kick, rest 30 s\", \
         \"5 x 100 (1-2 easy, 3-4 steady, 5 hard), rest 20 s\"]";
    let session = |language: &str| {
        format!(
            "title = \"Told\"\npool = \"25 m\"\nlevel = \"advanced\"\ngoal = \"endurance\"\nfocus = \"turns\"\n\
             pace = \"2:00\"\nlanguage = \"{language}\"\n[[part]]\nkind = \"main set\"\n{set}\n"
        )
    };
    assert_eq!(
        spoken(&session("en"), "cards/s-25m.pdf"),
        [
            "4 times 100: 50 fly, 50 free",
            "100, 200, 100 free",
            "2 times 400 free: broken 200, 100, 50, 50, rest 10 s",
            "8 times 50: odd free, even back",
            // Six hundreds of one stroke read as they are printed.
            "4 times 75: kick, drill, swim by 25",
            "3 times 2 min kick",
            "5 times 100 free: 1\u{2013}2 easy, 3\u{2013}4 steady, 5 hard",
        ]
    );
    for (language, first) in [
        ("de", "4 mal 100: 50 Delfin, 50 Kraul"),
        ("fr", "4 fois 100: 50 papillon, 50 crawl"),
        ("es", "4 veces 100: 50 mariposa, 50 crol"),
    ] {
        assert_eq!(spoken(&session(language), "cards/s-25m.pdf")[0], first);
    }
}
