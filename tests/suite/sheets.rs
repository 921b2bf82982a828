//! Cards on paper: how many, where, with which marks, and what lies behind what.

use deckcard::drawing::{Area, Item, Mark, Path, Point, Role, Size, Step};
use deckcard::paint::pdf::{self, Meta};
use deckcard::sheet::{
    Dimensions, Edge, Faces, ImposeError, Imposition, Paper, Placement, Sheet, Turn, impose, pair,
};
use deckcard::stock::Stock;

use crate::command::{GOOD, Workdir};
use crate::support::marked::{card, dimensions, extent};
use crate::support::reader;

fn faces(size: Dimensions, count: usize) -> Vec<Faces> {
    let card = card(size);
    vec![Faces { size, front: card.clone(), back: Some(card) }; count]
}

fn imposition(paper: Paper, margin: &str, gutter: &str, duplex: Option<Edge>) -> Imposition {
    Imposition { paper, margin: extent(margin), gutter: extent(gutter), duplex }
}

/// How many of `size` the first sheet holds, and how they lie.
fn fits(size: Dimensions, on: &Imposition) -> (usize, Turn) {
    let sheets = impose(&faces(size, 100), on).expect("sheets");
    (sheets[0].placed().len(), sheets[0].placed()[0].turn)
}

/// By arithmetic: ISO 216 for A4, A6 and A7; Letter is 8.5 x 11 in (ANSI/ASME Y14.1, size A), and
/// index cards are called by their edges, 3 x 5, 4 x 6 and 5 x 8 in.
#[test]
fn as_many_as_fit() {
    let on = |paper, margin: &str| imposition(paper, margin, "0 mm", None);
    let a6 = dimensions("105 mm", "148 mm");
    // 2 x 105 = 210 and 2 x 148 = 296 of 297.
    assert_eq!(fits(a6, &on(Paper::A4, "0 mm")), (4, Turn::None));
    // 200 / 148 = 1, 287 / 105 = 2; upright only 1 x 1.
    assert_eq!(fits(a6, &on(Paper::A4, "5 mm")), (2, Turn::Quarter));
    // 200 / 74 = 2, 287 / 105 = 2.
    let a7 = dimensions("74 mm", "105 mm");
    assert_eq!(fits(a7, &on(Paper::A4, "5 mm")), (4, Turn::None));
    // 8 / 4 = 2, 10.5 / 6 = 1.
    let photo = dimensions("4 in", "6 in");
    assert_eq!(fits(photo, &on(Paper::Letter, "0.25 in")), (2, Turn::None));
    // 8 / 3 = 2, 10.5 / 5 = 2.
    let index = dimensions("3 in", "5 in");
    assert_eq!(fits(index, &on(Paper::Letter, "0.25 in")), (4, Turn::None));
    // Turned: 8 / 8 = 1 exactly, 10.5 / 5 = 2. Floats may lose it.
    let large = dimensions("5 in", "8 in");
    assert_eq!(fits(large, &on(Paper::Letter, "0.25 in")), (2, Turn::Quarter));
    // A ten-thousandth of a millimetre more, and it no longer does.
    let off = imposition(Paper::Letter, "6.351 mm", "0 mm", None);
    assert_eq!(fits(large, &off), (1, Turn::None));
}

/// By hand on 8 x 10.5 in: 2 x 5 + 0.5 in down fits exactly. With 2 in between them, two cards
/// make 2 x 3 + 2 = 8 in across, and 12 in down.
#[test]
fn gutters_count_between_cards_only() {
    let index = dimensions("3 in", "5 in");
    let on = |gutter: &str| imposition(Paper::Letter, "0.25 in", gutter, None);
    assert_eq!(fits(index, &on("0.5 in")).0, 4);
    // Down 2 x 5 + 0.501 > 10.5; turned: 3 x 3 + 2 x 0.501 = 10.002.
    assert_eq!(fits(index, &on("0.501 in")), (3, Turn::Quarter));
    assert_eq!(fits(index, &on("2 in")), (2, Turn::None));
}

#[test]
fn cards_lie_in_the_middle_of_the_paper_and_keep_the_gutter() {
    let a7 = dimensions("74 mm", "105 mm");
    let sheets = impose(&faces(a7, 5), &imposition(Paper::A4, "5 mm", "6 mm", None));
    let sheets = sheets.expect("sheets");
    assert_eq!(sheets.iter().map(|sheet| sheet.placed().len()).collect::<Vec<_>>(), [4, 1]);
    // By hand, in mm: across (210 - 2 x 74 - 6) / 2 = 28 and 28 + 74 + 6 = 108;
    // down (297 - 2 x 105 - 6) / 2 = 40.5 and 40.5 + 105 + 6 = 151.5.
    let corners = [(28.0, 40.5), (108.0, 40.5), (28.0, 151.5), (108.0, 151.5)];
    for (placed, (x_mm, y_mm)) in sheets[0].placed().iter().zip(corners) {
        assert!((placed.at.x_pt - x_mm / 25.4 * 72.0).abs() < 0.001, "{placed:?}");
        assert!((placed.at.y_pt - y_mm / 25.4 * 72.0).abs() < 0.001, "{placed:?}");
    }
    // The last sheet is cut like the first.
    assert_eq!(sheets[0].trim(), sheets[1].trim());
    assert_eq!(sheets[0].marks().len(), sheets[1].marks().len());
}

#[test]
fn sizes_do_not_share_a_sheet() {
    let (a6, a7) = (dimensions("105 mm", "148 mm"), dimensions("74 mm", "105 mm"));
    let cards = [faces(a6, 1), faces(a7, 3), faces(a6, 1)].concat();
    let sheets = impose(&cards, &Imposition::plain(Paper::A4)).expect("sheets");
    assert_eq!(sheets.iter().map(|sheet| sheet.placed().len()).collect::<Vec<_>>(), [2, 3]);
}

#[test]
fn a_card_too_large_is_refused_with_the_paper_that_would_do() {
    let told = |size, on: &Imposition| impose(&faces(size, 1), on).expect_err("refused");
    let a4 = Imposition::plain(Paper::A4);
    // With 5 mm at each edge A3 is 287 x 410 mm: no room for 297 x 420. A2 has it.
    let board = dimensions("297 mm", "420 mm");
    assert_eq!(
        told(board, &a4).to_string(),
        "a card of 297 mm x 420 mm does not fit on A4 with 5 mm kept free at every edge; \
         A2 would do"
    );
    assert!(impose(&faces(board, 1), &imposition(Paper::Letter, "0 mm", "0 mm", None)).is_err());
    let sign = dimensions("1000 mm", "1000 mm");
    let ImposeError::TooLarge { larger, .. } = told(sign, &a4);
    assert_eq!(larger, None);
    // A margin that leaves nothing is no crash.
    told(dimensions("74 mm", "105 mm"), &imposition(Paper::A4, "200 mm", "0 mm", None));
}

const SIZES: [(&str, &str); 7] = [
    ("74 mm", "105 mm"),
    ("105 mm", "148 mm"),
    ("148 mm", "210 mm"),
    ("3 in", "5 in"),
    ("4 in", "6 in"),
    ("5 in", "8 in"),
    ("6 in", "4 in"),
];

/// Sheets of every size on both papers, with several margins and gutters.
fn for_each_case(edge: Option<Edge>, mut law: impl FnMut(&str, &Imposition, &[Sheet])) {
    let mut cases = 0;
    for (width, height) in SIZES {
        let size = dimensions(width, height);
        for paper in [Paper::A4, Paper::Letter] {
            for (margin, gutter) in
                [("0 mm", "0 mm"), ("5 mm", "0 mm"), ("0.25 in", "0 mm"), ("5 mm", "6 mm")]
            {
                let on = imposition(paper, margin, gutter, edge);
                let name = format!("{size} on {paper:?}, margin {margin}, gutter {gutter}");
                let Ok(sheets) = impose(&faces(size, 7), &on) else { continue };
                law(&name, &on, &sheets);
                cases += 1;
            }
        }
    }
    // As many cases as sizes and papers at the least; some cards are too large for some margins.
    assert!(cases >= 2 * SIZES.len(), "{cases} cases");
}

fn overlap(a: Area, b: Area) -> bool {
    let hair_pt = 0.001;
    a.left_pt < b.right_pt - hair_pt
        && b.left_pt < a.right_pt - hair_pt
        && a.top_pt < b.bottom_pt - hair_pt
        && b.top_pt < a.bottom_pt - hair_pt
}

fn within(inner: Area, outer: Area) -> bool {
    inner.left_pt >= outer.left_pt - 0.001
        && inner.top_pt >= outer.top_pt - 0.001
        && inner.right_pt <= outer.right_pt + 0.001
        && inner.bottom_pt <= outer.bottom_pt + 0.001
}

fn shrunk(area: Area, by_pt: f32) -> Area {
    Area {
        left_pt: area.left_pt + by_pt,
        top_pt: area.top_pt + by_pt,
        right_pt: area.right_pt - by_pt,
        bottom_pt: area.bottom_pt - by_pt,
    }
}

#[test]
fn cards_keep_apart_and_inside_what_the_printer_prints() {
    for_each_case(None, |name, on, sheets| {
        let total: usize = sheets.iter().map(|sheet| sheet.placed().len()).sum();
        assert_eq!(total, 7, "{name}");
        for sheet in sheets {
            let printable = shrunk(Area::whole(sheet.paper()), on.margin.points());
            for (index, placed) in sheet.placed().iter().enumerate() {
                assert!(within(placed.area(), printable), "{name}: {placed:?}");
                assert!(within(placed.area(), sheet.trim()), "{name}");
                for other in &sheet.placed()[index + 1..] {
                    assert!(!overlap(placed.area(), other.area()), "{name}");
                    let near = shrunk(placed.area(), 0.001 - on.gutter.points());
                    assert!(!overlap(near, other.area()), "{name}: gutter");
                }
            }
        }
    });
}

fn ends(mark: &Item) -> (Point, Point) {
    match &mark.mark {
        Mark::Stroke(Path(steps), width_pt, _) => {
            assert!(*width_pt <= 0.25, "a hairline");
            assert_eq!(mark.role, Role::Artifact);
            match steps[..] {
                [Step::Move(from), Step::Line(to)] => (from, to),
                _ => panic!("a line: {steps:?}"),
            }
        }
        other => panic!("a stroke: {other:?}"),
    }
}

/// A full grid's marks: one on both ends of every cut where there is room, none nearer to a
/// card than 2 mm, each on the line of a card's edge.
#[test]
fn crop_marks_stand_on_the_cuts_and_never_on_a_card() {
    let clear_pt = 2.0 / 25.4 * 72.0;
    for_each_case(None, |name, _, sheets| {
        let full = &sheets[0];
        for mark in full.marks() {
            let (from, to) = ends(mark);
            let area = Area {
                left_pt: from.x_pt.min(to.x_pt) - 0.01,
                top_pt: from.y_pt.min(to.y_pt) - 0.01,
                right_pt: from.x_pt.max(to.x_pt) + 0.01,
                bottom_pt: from.y_pt.max(to.y_pt) + 0.01,
            };
            let upright = from.x_pt == to.x_pt;
            assert!(within(area, shrunk(Area::whole(full.paper()), -0.02)), "{name}");
            let on_an_edge = |placed: &Placement| {
                let card = placed.area();
                let (at, first, last) = match upright {
                    true => (from.x_pt, card.left_pt, card.right_pt),
                    false => (from.y_pt, card.top_pt, card.bottom_pt),
                };
                (at - first).abs() < 0.001 || (at - last).abs() < 0.001
            };
            assert!(full.placed().iter().any(on_an_edge), "{name}: {from:?}");
            for placed in full.placed() {
                // Marks lie beyond the card in their own direction, so only that side counts.
                let near = match upright {
                    true => Area {
                        top_pt: placed.area().top_pt - clear_pt + 0.02,
                        bottom_pt: placed.area().bottom_pt + clear_pt - 0.02,
                        ..shrunk(placed.area(), -0.005)
                    },
                    false => Area {
                        left_pt: placed.area().left_pt - clear_pt + 0.02,
                        right_pt: placed.area().right_pt + clear_pt - 0.02,
                        ..shrunk(placed.area(), -0.005)
                    },
                };
                assert!(!overlap(area, near), "{name}: {from:?} {to:?} at {near:?}");
            }
        }
    });
}

/// By hand: two A6 cards on their side on A4, one above the other, share a cut: 2 upright cuts
/// and 3 across, each marked at both ends, make 10 marks. With a gutter of 6 mm there are 4
/// across, and the gutter holds a mark for each upright cut: 2 x 3 + 4 x 2 = 14.
#[test]
fn cuts_without_a_gutter_are_shared() {
    let a6 = dimensions("105 mm", "148 mm");
    let marks = |gutter: &str| {
        let on = imposition(Paper::A4, "5 mm", gutter, None);
        impose(&faces(a6, 2), &on).expect("sheets")[0].marks().len()
    };
    assert_eq!(marks("0 mm"), 10);
    assert_eq!(marks("6 mm"), 14);
    // Too narrow for a mark clear of both cards.
    assert_eq!(marks("4 mm"), 12);
}

/// Two 3 x 5 in cards side by side and one above the other leave (8.5 - 6) / 2 = 1.25 in at the
/// sides and (11 - 10) / 2 = 0.5 in above: room for marks beside the 0.25 in not printed.
#[test]
fn marks_keep_out_of_the_printers_margin_where_there_is_room() {
    let sheets = impose(&faces(dimensions("3 in", "5 in"), 4), &Imposition::plain(Paper::Letter));
    let sheet = &sheets.expect("sheets")[0];
    let printable = shrunk(Area::whole(sheet.paper()), 0.25 * 72.0);
    for mark in sheet.marks() {
        for end in [ends(mark).0, ends(mark).1] {
            let point = Area {
                left_pt: end.x_pt,
                top_pt: end.y_pt,
                right_pt: end.x_pt,
                bottom_pt: end.y_pt,
            };
            assert!(within(point, printable), "{end:?}");
        }
    }
    assert_eq!(sheet.marks().len(), 12);
}

/// TrimBox within BleedBox within MediaBox: ISO 32000-1, 14.11.2. Marks lie outside the bleed.
#[test]
fn boxes_are_nested_in_the_file() {
    for_each_case(Some(Edge::Long), |name, _, sheets| {
        let bytes = pdf::write(sheets, &[], &meta()).expect("a PDF");
        let document = lopdf::Document::load_mem(&bytes).expect("reads");
        let pages = document.get_pages();
        assert_eq!(pages.len(), sheets.len(), "{name}");
        for (sheet, id) in sheets.iter().zip(pages.values()) {
            let page = document.get_dictionary(*id).expect("a page");
            let numbers = |key: &[u8]| -> Option<[f32; 4]> {
                let values = page.get(key).ok()?.as_array().ok()?;
                let values: Vec<f32> =
                    values.iter().map(|v| v.as_float().expect("a number")).collect();
                values.try_into().ok()
            };
            let media = numbers(b"MediaBox").expect("a media box");
            let trim = numbers(b"TrimBox").expect("a trim box");
            let bleed = numbers(b"BleedBox").unwrap_or(trim);
            let inside = |a: [f32; 4], b: [f32; 4]| {
                a[0] >= b[0] - 0.001
                    && a[1] >= b[1] - 0.001
                    && a[2] <= b[2] + 0.001
                    && a[3] <= b[3] + 0.001
            };
            assert!(inside(trim, bleed) && inside(bleed, media), "{name}: {trim:?} {bleed:?}");
            assert_eq!(sheet.marks().is_empty(), sheet.bleed().is_none(), "{name}");
        }
    });
}

fn meta() -> Meta {
    Meta { title: "Sheets".into(), language: "en".into(), made: None }
}

/// Where the paper's point lies when it is turned over and looked at through the front.
fn folded(area: Area, paper: Size, edge: Edge) -> Area {
    match edge {
        Edge::Long => Area {
            left_pt: paper.width_pt - area.right_pt,
            right_pt: paper.width_pt - area.left_pt,
            ..area
        },
        Edge::Short => Area {
            top_pt: paper.height_pt - area.bottom_pt,
            bottom_pt: paper.height_pt - area.top_pt,
            ..area
        },
    }
}

/// Which way the top of a card points on its side of the paper: right, down.
fn top(turn: Turn) -> (i32, i32) {
    match turn {
        Turn::None => (0, -1),
        Turn::Quarter => (1, 0),
        Turn::Half => (0, 1),
        Turn::ThreeQuarters => (-1, 0),
    }
}

/// Fold the back onto the front: areas coincide and tops point the same way.
#[test]
fn backs_lie_exactly_behind_their_fronts() {
    for edge in [Edge::Long, Edge::Short] {
        for_each_case(Some(edge), |name, _, sheets| {
            for pair in sheets.chunks(2) {
                let [front, back] = pair else { panic!("a back for every front: {name}") };
                assert_eq!(front.placed().len(), back.placed().len(), "{name}");
                for (face, behind) in front.placed().iter().zip(back.placed()) {
                    let through = folded(behind.area(), back.paper(), edge);
                    let area = face.area();
                    assert!(within(through, area) && within(area, through), "{name} {edge:?}");
                    let (x, y) = top(behind.turn);
                    let through = if edge == Edge::Long { (-x, y) } else { (x, -y) };
                    assert_eq!(through, top(face.turn), "{name} {edge:?}");
                }
                let trim = folded(back.trim(), back.paper(), edge);
                assert!(within(trim, front.trim()) && within(front.trim(), trim), "{name}");
            }
        });
    }
}

/// The same of the printed file: both pages drawn, the back mirrored and laid on the front.
/// Every card has a bar at the left of its top edge; on a back seen through the paper it is at
/// the right of the same edge.
#[test]
fn printed_backs_cover_printed_fronts() {
    for edge in [Edge::Long, Edge::Short] {
        for size in [dimensions("74 mm", "105 mm"), dimensions("105 mm", "148 mm")] {
            let on = imposition(Paper::A4, "5 mm", "6 mm", Some(edge));
            let sheets = impose(&faces(size, 4), &on).expect("sheets");
            let bytes = pdf::write(&sheets, &[], &meta()).expect("a PDF");
            let pages = reader::rasters(&bytes, 1.0);
            let (front, back) = (&pages[0], &pages[1]);
            for placed in sheets[0].placed() {
                let area = placed.area();
                let middle =
                    ((area.left_pt + area.right_pt) / 2.0, (area.top_pt + area.bottom_pt) / 2.0);
                // From the middle to the bar: up to the top edge, then left of a reader.
                let (up, left) = (top(placed.turn), (top(placed.turn).1, -top(placed.turn).0));
                let rise_pt = size.height.points() / 2.0 - 20.0;
                let aside_pt = size.width.points() / 4.0;
                let dark = |raster: &reader::Raster, side: f32, through: bool| {
                    let x = middle.0 + up.0 as f32 * rise_pt + side * left.0 as f32 * aside_pt;
                    let y = middle.1 + up.1 as f32 * rise_pt + side * left.1 as f32 * aside_pt;
                    let (x, y) = match (through, edge) {
                        (false, _) => (x, y),
                        (true, Edge::Long) => (sheets[1].paper().width_pt - x, y),
                        (true, Edge::Short) => (x, sheets[1].paper().height_pt - y),
                    };
                    raster.dark[y as usize * raster.width + x as usize] > 200
                };
                assert!(dark(front, 1.0, false) && !dark(front, -1.0, false), "{placed:?}");
                assert!(dark(back, -1.0, true) && !dark(back, 1.0, true), "{placed:?} {edge:?}");
            }
        }
    }
}

#[test]
fn cards_without_a_partner_get_a_blank_back() {
    let a6 = dimensions("105 mm", "148 mm");
    let cards = |count: usize| vec![(*card(a6)).clone(); count];
    let backs = |faces: Vec<Faces>| faces.iter().map(|f| f.back.is_some()).collect::<Vec<_>>();
    assert_eq!(backs(pair(cards(3), cards(1), a6)), [true, false, false]);
    assert_eq!(backs(pair(cards(1), cards(2), a6)), [true, false]);
    // On the sheet the others still lie behind their own fronts.
    let mut faces = faces(a6, 3);
    faces[0].back = None;
    let on = imposition(Paper::A4, "0 mm", "0 mm", Some(Edge::Long));
    let sheets = impose(&faces, &on).expect("sheets");
    assert_eq!(sheets[1].placed().len(), 2);
    let through = folded(sheets[1].placed()[0].area(), sheets[1].paper(), Edge::Long);
    assert!(within(through, sheets[0].placed()[1].area()));
}

/// The twelve cards of a session with lanes: two pools in one file, a front and a back each.
#[test]
fn lanes_share_sheets_with_the_other_pool_behind_each() {
    let lanes: String =
        (1..=3).map(|n| format!("[[lane]]\nname = \"Lane {n}\"\npace = \"2:{n}0\"\n\n")).collect();
    let text = GOOD
        .replace("[[part]]\nkind = \"warm-up\"", &format!("{lanes}[[part]]\nkind = \"warm-up\""));
    let workdir = Workdir::new().file("s.toml", text);
    let ran = workdir.run(&["print", "s.toml", "--sheet", "a4", "--duplex", "long-edge"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    assert!(!workdir.path("s-25m.pdf").exists());
    let bytes = std::fs::read(workdir.path("s-25m-25yd.pdf")).expect("a PDF");
    let pages = reader::read(&bytes);
    // Three lanes' A6 cards, two to the sheet: two sheets of two sides.
    assert_eq!(pages.len(), 4);
    for (index, page) in pages.iter().enumerate() {
        // A4, upright.
        assert!(
            (page.size_pt.0 - 595.2756).abs() < 0.001 && (page.size_pt.1 - 841.8898).abs() < 0.001
        );
        let (own, other) =
            if index % 2 == 0 { ("25 m pool", "25 yd pool") } else { ("25 yd pool", "25 m pool") };
        assert!(
            page.text.contains(own) && !page.text.contains(other),
            "page {index}: {}",
            page.text
        );
        let lanes: &[&str] = if index < 2 { &["Lane 1", "Lane 2"] } else { &["Lane 3"] };
        for lane in ["Lane 1", "Lane 2", "Lane 3"] {
            assert_eq!(page.text.contains(lane), lanes.contains(&lane), "page {index}, {lane}");
        }
    }
}

#[test]
fn sheets_on_the_command_line() {
    let workdir = Workdir::new()
        .file("s.toml", GOOD.replace("pace", "club = \"club.toml\"\npace"))
        .file("club.toml", "name = \"Hernmarsh Lane Club\"\nstock = \"board-a3\"\n");
    // Both versions, a file each, as without sheets.
    let small = Workdir::new().file("s.toml", GOOD);
    assert_eq!(small.run(&["print", "s.toml", "--sheet", "letter", "--margin", "5 mm"]).exit, 0);
    assert!(small.path("s-25m.pdf").is_file() && small.path("s-25yd.pdf").is_file());
    let bytes = std::fs::read(small.path("s-25m.pdf")).expect("a PDF");
    assert_eq!(reader::read(&bytes)[0].size_pt, (612.0, 792.0));
    let ran = workdir.run(&["print", "s.toml", "--sheet", "a4"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("A2 would do"), "{}", ran.err);
    assert!(!workdir.path("s-25m.pdf").exists());
    for wrong in [
        vec!["--gutter", "6 mm"],
        vec!["--sheet", "a4", "--gutter", "6"],
        vec!["--sheet", "a9"],
        vec!["--duplex", "long-edge"],
        vec!["--sheet", "a4", "--duplex", "long-edge", "--pool", "25 m"],
        vec!["--sheet", "a4", "--duplex", "long-edge", "--as-written"],
    ] {
        let ran = small.run(&[vec!["print", "s.toml"], wrong.clone()].concat());
        assert_eq!(ran.exit, 2, "{wrong:?}: {}", ran.err);
    }
}

#[test]
fn stocks_have_their_exact_size() {
    for (name, width, height) in [("a6", "105 mm", "148 mm"), ("half-letter", "5.5 in", "8.5 in")] {
        let stock = Stock::named(name).expect("listed").expect("reads");
        assert_eq!(stock.edges(), (extent(width), extent(height)));
    }
}

/// A5 with the two holes of ISO 838: 6 mm across, 12 mm from the edge, 65 and 145 mm down. By
/// hand, with 2 mm clear of the hole, print begins 12 + 3 + 2 = 17 mm from the bound edge and
/// ends at the 6 mm margin opposite; on the back the bound edge is at the right.
#[test]
fn holes_are_kept_clear_on_backs_too() {
    let stock = "name = \"Bound\"\nwidth = \"148 mm\"\nheight = \"210 mm\"\nmargin = \"6 mm\"\n\
        reading = \"500 mm\"\nfootnotes = \"350 mm\"\nholes = [\n\
        { x = \"12 mm\", y = \"65 mm\", diameter = \"6 mm\" },\n\
        { x = \"12 mm\", y = \"145 mm\", diameter = \"6 mm\" },\n]\n";
    let workdir = Workdir::new()
        .file("s.toml", format!("club = \"club.toml\"\n{GOOD}"))
        .file("club.toml", "name = \"Hernmarsh Lane Club\"\nstock = \"bound.toml\"\n")
        .file("bound.toml", stock);
    let ran = workdir.run(&["print", "s.toml", "--sheet", "a4", "--duplex", "long-edge"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let bytes = std::fs::read(workdir.path("s-25m-25yd.pdf")).expect("a PDF");
    let pages = reader::rasters(&bytes, 2.0);
    let pixel = |mm: f32| (mm / 25.4 * 72.0 * 2.0) as usize;
    // The card lies in the middle: (210 - 148) / 2 = 31 mm from the left, 43.5 mm from the top.
    let ink = |page: &reader::Raster| {
        let columns = (pixel(31.5)..pixel(178.5))
            .filter(|x| (pixel(44.0)..pixel(253.0)).any(|y| page.dark[y * page.width + x] > 40));
        let columns: Vec<usize> = columns.collect();
        (columns[0], columns[columns.len() - 1])
    };
    let (left, right) = ink(&pages[0]);
    assert!(left + 1 >= pixel(31.0 + 17.0) && right <= pixel(31.0 + 142.0) + 1, "{left} {right}");
    let (left, right) = ink(&pages[1]);
    assert!(left + 1 >= pixel(31.0 + 6.0) && left < pixel(31.0 + 10.0), "{left}");
    assert!(right <= pixel(31.0 + 131.0) + 1, "{right}");
}
