//! Stocks: `stocks`, `--stock`, `--landscape`, `--back`, `show --card`, and files of one's own.

use deckcard::card::{Extras, back, compose};
use deckcard::drawing::{Area, Card, Ink, Mark};
use deckcard::finding::FileId;
use deckcard::measure::Extent;
use deckcard::stock::{Orientation, Stock, read};
use deckcard::words::Words;

use crate::card_laws::box_of;
use crate::command::{GOOD, Workdir};
use crate::support::plans;

fn turned(name: &str, orientation: Orientation) -> Stock {
    let source = Stock::built_in(name).expect("listed");
    read(&source, FileId::MAIN, Some(orientation), &mut Vec::new()).expect("reads")
}

const CLUB_CARD: &str = r#"name = "Club card"
width = "90 mm"
height = "130 mm"
margin = "4 mm"
reading = "450 mm"
footnotes = "300 mm"
"#;

#[test]
fn built_in_sizes_follow_their_standards() {
    // ISO 216: A7 74 x 105, A6 105 x 148, A5 148 x 210, A3 297 x 420 mm. Cards of 3 x 5 and
    // 4 x 6 in are called by their edges, and the half letter is half of 8.5 x 11 in (ANSI/ASME
    // Y14.1, size A); the rest by arithmetic, 1 in being 25.4 mm.
    for (name, width, height) in [
        ("a7", "74 mm", "105 mm"),
        ("a6", "105 mm", "148 mm"),
        ("a5", "148 mm", "210 mm"),
        ("board-a3", "297 mm", "420 mm"),
        ("3x5", "76.2 mm", "127 mm"),
        ("4x6", "101.6 mm", "152.4 mm"),
        ("half-letter", "139.7 mm", "215.9 mm"),
    ] {
        let stock = Stock::named(name).expect("listed").expect("reads");
        let edges = (Extent::read(width).expect("read"), Extent::read(height).expect("read"));
        assert_eq!(stock.edges(), edges, "{name}");
        let across = turned(name, Orientation::Landscape).edges();
        assert_eq!(across, (edges.1, edges.0), "{name}");
    }
}

#[test]
fn stocks_lists_sizes_margins_and_cap_heights() {
    let ran = Workdir::new().run(&["stocks"]);
    assert_eq!((ran.exit, ran.err.as_str()), (0, ""));
    assert_eq!(ran.out.lines().count(), 1 + Stock::names().count());
    // ISO 9241-303: 20' at 500 mm are 2.9089 mm, at 3 m 17.4533 mm.
    let line = |name: &str| {
        let own = ran.out.lines().find(|line| line.starts_with(&format!("{name} ")));
        own.unwrap_or_else(|| panic!("{name} is not listed")).to_owned()
    };
    assert!(line("a6").contains("105 x 148 mm") && line("a6").ends_with("capitals of 2.9 mm"));
    assert!(line("board-a3").contains("3000 mm") && line("board-a3").ends_with("17.5 mm"));
    assert!(line("3x5").contains("3 x 5 in (76.2 x 127 mm)"), "{}", line("3x5"));
    let json = Workdir::new().run(&["stocks", "--json"]);
    let list: serde_json::Value = serde_json::from_str(&json.out).expect("JSON");
    let a6 = list.as_array().expect("a list").iter().find(|stock| stock["stock"] == "a6");
    assert_eq!(a6.expect("listed")["least_swim_capitals_mm"], 2.909);
}

#[test]
fn a_stock_file_of_ones_own_works_by_path() {
    let workdir = Workdir::new()
        .file("club/card.toml", CLUB_CARD)
        .file("club/club.toml", "name = \"Hernmarsh Lane Club\"\nstock = \"card.toml\"\n")
        .file("s.toml", GOOD.replacen("pool", "club = \"club/club.toml\"\npool", 1))
        .file("plain.toml", GOOD);
    let trim = |pdf: &str| {
        let bytes = std::fs::read(workdir.path(pdf)).expect("a PDF");
        let document = lopdf::Document::load_mem(&bytes).expect("reads");
        let (_, page) = document.get_pages().into_iter().next().expect("a page");
        let page = document.get_dictionary(page).expect("a page");
        let media = page.get(b"MediaBox").and_then(|media| media.as_array()).expect("a box");
        [2, 3].map(|at: usize| media[at].as_float().expect("a number"))
    };
    // By hand: 90 mm and 130 mm are 255.1181 and 368.5039 pt.
    assert_eq!(workdir.run(&["print", "s.toml", "--as-written", "-o", "a"]).exit, 0);
    let [width, height] = trim("a/s-25m.pdf");
    assert!((width - 255.1181).abs() < 0.01 && (height - 368.5039).abs() < 0.01);
    // Named on the command line, relative to where one stands; turned.
    let ran = workdir.run(&[
        "print",
        "plain.toml",
        "--as-written",
        "--stock",
        "club/card.toml",
        "--landscape",
        "-o",
        "b",
    ]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let [width, height] = trim("b/plain-25m.pdf");
    assert!((width - 368.5039).abs() < 0.01 && (height - 255.1181).abs() < 0.01);
    // The command line comes before the club: A6 is 297.6378 pt wide.
    assert_eq!(workdir.run(&["print", "s.toml", "--stock", "a6", "-o", "c"]).exit, 0);
    assert!((trim("c/s-25m.pdf")[0] - 297.6378).abs() < 0.01);
}

/// A stock no set fits is at fault itself, once; a set that alone is too large is at fault on a
/// stock that holds the others.
#[test]
fn what_does_not_fit_is_reported_where_the_fault_is() {
    let cue = "kick from the hip and let the foot trail long behind, the knee soft, the ankle loose, \
               the toes near to each other, as many small kicks to an arm stroke as feel easy, and \
               breathe out into the water";
    let long = GOOD.replace("cue = \"kick from the hip\"", &format!("cue = \"{cue}\""));
    let errors = |reading: &str| {
        // A tag of 56 x 56 mm.
        let tag = CLUB_CARD
            .replace("\"90 mm\"", "\"56 mm\"")
            .replace("\"130 mm\"", "\"56 mm\"")
            .replace("\"4 mm\"", "\"3 mm\"")
            .replace("\"450 mm\"", reading);
        let workdir = Workdir::new().file("tag.toml", tag).file("s.toml", &long);
        let ran = workdir.run(&["print", "s.toml", "--stock", "tag.toml", "--format", "short"]);
        assert_eq!(ran.exit, 1, "{}", ran.err);
        let lines = ran.err.lines().filter(|line| line.contains("error["));
        lines.map(|line| line.split("]: ").next().unwrap_or(line).to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(errors("\"600 mm\""), ["s.toml:17:3: error[does-not-fit"]);
    assert_eq!(errors("\"3000 mm\""), ["tag.toml:5:11: error[does-not-fit"]);
}

#[test]
fn a_wrong_stock_file_is_told_whole_with_lines_and_columns() {
    let wrong = CLUB_CARD
        .replace("width = \"90 mm\"", "width = 90")
        .replace("margin = \"4 mm\"", "margn = \"4 mm\"")
        .replace("\"300 mm\"", "\"600 mm\"");
    let workdir = Workdir::new().file("card.toml", wrong).file("s.toml", GOOD);
    let ran = workdir.run(&["print", "s.toml", "--stock", "card.toml", "--format", "short"]);
    assert_eq!(ran.exit, 1);
    assert!(!workdir.path("s-25m.pdf").exists());
    let told: Vec<&str> = ran.err.lines().collect();
    assert_eq!(
        told,
        [
            "card.toml:2:9: error[unreadable-size]: \"90\" is not a size",
            "card.toml:4:1: error[unknown-key]: a stock file has no key \"margn\"",
            "card.toml:6:13: error[stock-unusable]: footnotes are read from 600 mm, the card itself from 450 mm",
        ]
    );
    // `stocks` checks a stock file by itself, and draws the findings over its lines.
    let ran = workdir.run(&["stocks", "card.toml"]);
    assert_eq!((ran.exit, ran.out.as_str()), (1, ""));
    assert!(ran.err.contains("--> card.toml:4:1") && ran.err.contains("write: margin"));
    let ran = workdir.run(&["print", "s.toml", "--stock", "a66", "--format", "short"]);
    assert_eq!(ran.exit, 2);
    let told = "there is no such stock and no such file; did you mean \"a6\"?";
    assert!(ran.err.contains(told), "{}", ran.err);
    // A file that is there is read, and told of like any other.
    let ran = workdir.run(&["print", "s.toml", "--stock", "s.toml", "--format", "short"]);
    assert_eq!(ran.exit, 1);
    assert!(ran.err.contains("s.toml:"), "{}", ran.err);
}

/// What holds for every printed face, here for backs and turned cards.
fn obeys_the_laws(name: &str, safe: Area, card: &Card) {
    let hair = 0.6;
    let boxes: Vec<_> = card.items().iter().map(|item| box_of(&item.mark)).collect();
    for (item, area) in card.items().iter().zip(&boxes) {
        let Some(area) = area else { continue };
        let inside = area.left_pt >= safe.left_pt - hair
            && area.top_pt >= safe.top_pt - hair
            && area.right_pt <= safe.right_pt + hair
            && area.bottom_pt <= safe.bottom_pt + hair;
        assert!(inside, "{name}: {:?} outside {safe:?}", item.mark);
    }
    for (index, item) in card.items().iter().enumerate() {
        let (Mark::Text(run), Some(a)) = (&item.mark, boxes[index]) else { continue };
        assert!(run.glyphs.iter().all(|glyph| glyph.id != 0), "{name}: {:?}", run.text);
        for (other, b) in boxes.iter().enumerate().filter(|(other, _)| *other != index) {
            let Some(b) = b else { continue };
            let apart = a.right_pt <= b.left_pt + 0.3
                || b.right_pt <= a.left_pt + 0.3
                || a.bottom_pt <= b.top_pt + 0.05
                || b.bottom_pt <= a.top_pt + 0.05;
            assert!(apart, "{name}: {:?} overlaps {:?}", run.text, card.items()[other].mark);
        }
    }
}

/// Relative luminance and contrast with white, as WCAG 2.2 defines them.
fn contrast_with_white(Ink(grey): Ink) -> f64 {
    let channel = f64::from(grey) / 255.0;
    let linear =
        if channel <= 0.04045 { channel / 12.92 } else { ((channel + 0.055) / 1.055).powf(2.4) };
    1.05 / (linear + 0.05)
}

#[test]
fn every_ink_can_be_seen_on_white() {
    // WCAG 2.2: 595959 is 7.0047 on white, 767676 4.5422, black 21.
    for (grey, contrast) in [(0x59, 7.0047), (0x76, 4.5422), (0, 21.0)] {
        assert!((contrast_with_white(Ink(grey)) - contrast).abs() < 0.0001);
    }
    let words = Words::named("en").expect("listed").expect("reads");
    for name in ["a7", "a6"] {
        let stock = Stock::named(name).expect("listed").expect("reads");
        for (plan_name, plan) in plans::all() {
            let mut cards = compose(&plan, &Extras::default(), &stock, &words).cards;
            cards.push(back(&plan, &stock, &words));
            for item in cards.iter().flat_map(|card| card.items()) {
                // Text 7 : 1 (AAA), everything else that is drawn 3 : 1.
                let (ink, least) = match &item.mark {
                    Mark::Text(run) => (run.ink, 7.0),
                    Mark::Fill(_, ink) | Mark::Stroke(_, _, ink) => (*ink, 3.0),
                    Mark::Picture(..) => continue,
                    // Black, as its picture shows.
                    Mark::Dial(..) => continue,
                };
                assert!(contrast_with_white(ink) >= least, "{plan_name} on {name}: {ink:?}");
            }
        }
    }
}

#[test]
fn backs_obey_the_laws_and_have_lines_to_write_on() {
    let words = Words::named("en").expect("listed").expect("reads");
    for name in Stock::names() {
        for orientation in [Orientation::Portrait, Orientation::Landscape] {
            // Its holes are placed by hand along the long edge, and are off a turned card.
            if name == "binder-half-letter" && orientation == Orientation::Landscape {
                continue;
            }
            let stock = turned(name, orientation);
            for (plan_name, plan) in plans::all() {
                let card = back(&plan, &stock, &words);
                obeys_the_laws(
                    &format!("back of {plan_name} on {name}"),
                    stock.behind().safe(),
                    &card,
                );
                let text: String = card
                    .items()
                    .iter()
                    .filter_map(|item| match &item.mark {
                        Mark::Text(run) => Some(run.text.as_ref()),
                        _ => None,
                    })
                    .collect();
                let squeezed = |text: &str| text.split_whitespace().collect::<String>();
                for word in ["Times and counts", plan.title().value.as_str()] {
                    let word = deckcard::typeset::face::composed(word);
                    assert!(squeezed(&text).contains(&squeezed(&word)), "{plan_name}: {word}");
                }
                let lines = card.items().iter().filter(|item| matches!(item.mark, Mark::Fill(..)));
                // Two columns; on the smallest stock three lines at least.
                assert!(lines.count() >= 6, "{plan_name} on {name}, {orientation}");
            }
        }
    }
}

#[test]
fn holes_at_the_left_of_a_card_are_at_the_right_of_its_back() {
    let words = Words::named("en").expect("listed").expect("reads");
    let stock = Stock::read(&CLUB_CARD.replace("\"130 mm\"", "\"130 mm\"\npunch = \"two-hole\""));
    let stock = stock.expect("a stock");
    // By hand: 90 mm across, less 12 mm, half of a 6 mm hole (ISO 838) and 2 mm of paper.
    let last_pt = 73.0 / 25.4 * 72.0;
    for (plan_name, plan) in plans::all() {
        let card = back(&plan, &stock, &words);
        for item in card.items() {
            let Some(area) = box_of(&item.mark) else { continue };
            assert!(area.right_pt <= last_pt + 0.6, "{plan_name}: {:?}", item.mark);
        }
    }
}

#[test]
fn turned_cards_obey_the_laws() {
    let words = Words::named("en").expect("listed").expect("reads");
    for name in ["a7", "3x5", "a6", "a5"] {
        let stock = turned(name, Orientation::Landscape);
        for (plan_name, plan) in plans::all() {
            for card in compose(&plan, &Extras::default(), &stock, &words).cards {
                obeys_the_laws(&format!("{plan_name} on {name}, turned"), stock.safe(), &card);
            }
        }
    }
}

#[test]
fn a_back_is_a_page_after_the_cards_where_it_is_asked_for() {
    let with_back = format!("{CLUB_CARD}back = true\n");
    let workdir = Workdir::new().file("card.toml", with_back).file("s.toml", GOOD);
    let pages = |arguments: &[&str]| {
        let mut all = vec!["print", "s.toml", "--as-written"];
        all.extend(arguments);
        let ran = workdir.run(&all);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        let bytes = std::fs::read(workdir.path("s-25m.pdf")).expect("a PDF");
        lopdf::Document::load_mem(&bytes).expect("reads").get_pages().len()
    };
    let plain = pages(&[]);
    assert_eq!(pages(&["--back"]), plain + 1);
    let without = workdir.file("card.toml", CLUB_CARD);
    let count = |workdir: &Workdir| {
        let ran = workdir.run(&["print", "s.toml", "--as-written", "--stock", "card.toml"]);
        assert_eq!(ran.exit, 0, "{}", ran.err);
        let bytes = std::fs::read(workdir.path("s-25m.pdf")).expect("a PDF");
        lopdf::Document::load_mem(&bytes).expect("reads").get_pages().len()
    };
    let fronts = count(&without);
    let with = without.file("card.toml", format!("{CLUB_CARD}back = true\n"));
    assert_eq!(count(&with), fronts + 1);
}

#[test]
fn show_card_tells_cards_and_reading_distances() {
    let workdir = Workdir::new().file("s.toml", GOOD);
    let ran = workdir.run(&["show", "--card", "s.toml"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    // A title, a heading, and a line for each stock and pool.
    assert_eq!(ran.out.lines().count(), 2 + 2 * Stock::names().count(), "{}", ran.out);
    let ran = workdir.run(&["show", "--card", "s.toml", "--stock", "a6"]);
    let lines: Vec<&str> = ran.out.lines().skip(2).collect();
    assert_eq!(lines.len(), 2);
    for line in lines {
        // "a6  25 m  1  4.5 mm  0.77 m": capitals no lower than 2.9 mm, read from 0.5 m at
        // least (ISO 9241-303, the stock's own distance).
        let words: Vec<&str> = line.split_whitespace().collect();
        let number = |at: usize| words[at].parse::<f64>().expect("a number");
        assert!(number(3) >= 1.0 && number(4) >= 2.9 && number(6) >= 0.5, "{line}");
    }
}

/// Bytes of a good file changed in every way a slip may: no panic, every place inside it.
#[test]
fn broken_stock_files_never_panic() {
    let text = format!(
        "{CLUB_CARD}punch = \"two-hole\"\nholes = [{{ x = \"9 mm\", y = \"9 mm\", diameter = \"5 mm\" }}]\n"
    );
    let signs = ["", "\"", "[", "}", "=", "9", "-", "é", "\n", "0.0001 mm"];
    for (at, _) in text.char_indices() {
        for sign in signs {
            let broken = format!("{}{sign}{}", &text[..at], &text[at + 1..]);
            if let Err(found) = Stock::read(&broken) {
                assert!(!found.is_empty(), "{broken}");
                for label in found.iter().flat_map(|finding| &finding.labels) {
                    assert!(label.place.end <= broken.len(), "{broken}");
                }
            }
        }
    }
}

/// By hand: a lanyard's worth of holes is not the matter, but an edge: three holes need more than the
/// 150 mm of the top, and find 250 mm once the card is turned. `stocks` refuses the file; so does
/// every command that prints on it, whichever way up.
#[test]
fn a_stock_that_is_refused_is_refused_turned_as_well() {
    let stock = "name = \"Club card\"\nwidth = \"150 mm\"\nheight = \"250 mm\"\nmargin = \"5 mm\"\n\
                 reading = \"500 mm\"\nfootnotes = \"350 mm\"\npunch = \"three-hole\"\nbound = \"top\"\n";
    let hole = "name = \"Club card\"\nwidth = \"105 mm\"\nheight = \"148 mm\"\nmargin = \"5 mm\"\n\
                reading = \"500 mm\"\nfootnotes = \"350 mm\"\n\
                holes = [{ x = \"140 mm\", y = \"9 mm\", diameter = \"5 mm\" }]\n";
    let workdir = Workdir::new().file("s.toml", GOOD).file("a.toml", stock).file("b.toml", hole);
    for bad in ["a.toml", "b.toml"] {
        for command in [
            &["stocks", bad][..],
            &["print", "s.toml", "--stock", bad],
            &["print", "s.toml", "--stock", bad, "--landscape"],
            &["preview", "s.toml", "--stock", bad, "--landscape"],
            &["show", "s.toml", "--card", "--stock", bad, "--landscape"],
        ] {
            let ran = workdir.run(command);
            assert_eq!(ran.exit, 1, "{command:?}: {}", ran.err);
            assert_eq!(ran.err.matches("error[holes-off-edge]").count(), 1, "{}", ran.err);
        }
    }
    assert!(!workdir.path("s-25m.pdf").exists());
    // A hole that is on the card as it is written, and off it once the card is turned.
    let turned = hole.replace("x = \"140 mm\", y = \"9 mm\"", "x = \"9 mm\", y = \"140 mm\"");
    let workdir = Workdir::new().file("s.toml", GOOD).file("c.toml", turned);
    assert_eq!(workdir.run(&["print", "s.toml", "--stock", "c.toml"]).exit, 0);
    let ran = workdir.run(&["print", "s.toml", "--stock", "c.toml", "--landscape"]);
    assert!(ran.exit == 1 && ran.err.contains("does not lie on the card"), "{}", ran.err);
}

/// A card the size of A6 that is to be read from 5 m, and one from 2 m: the first holds nothing, the
/// second only in type that does not read from there. Both are the stock's fault, and named at its
/// reading distance before anything is printed.
#[test]
fn a_stock_that_holds_no_ordinary_session_is_named_by_every_command() {
    let stock = |mm: u32| CLUB_CARD.replace("450 mm", &format!("{mm} mm"));
    let club = "name = \"Hernmarsh Lane Club\"\nstock = \"far.toml\"\n";
    for (mm, exit, id) in [(5001, 1, "does-not-fit"), (1500, 0, "type-too-small")] {
        let workdir = Workdir::new()
            .file("far.toml", stock(mm))
            .file("club.toml", club)
            .file("s.toml", format!("club = \"club.toml\"\n{GOOD}"));
        for command in [
            &["stocks", "far.toml"][..],
            &["check", "far.toml"],
            &["show", "--card", "--stock", "far.toml", "s.toml"],
            &["show", "--card", "s.toml"],
            &["check", "s.toml"],
        ] {
            let ran = workdir.run(command);
            assert_eq!(ran.exit, exit, "{mm} {command:?}: {}", ran.err);
            assert!(ran.err.contains(id), "{mm} {command:?}: {}", ran.err);
            assert!(ran.err.contains("far.toml:5:"), "{mm} {command:?}: {}", ran.err);
            assert!(ran.err.contains(&format!("read from {mm} mm")), "{command:?}: {}", ran.err);
        }
    }
    // One's own that holds it says nothing, and is listed before the others.
    let workdir = Workdir::new()
        .file("far.toml", CLUB_CARD)
        .file("club.toml", club)
        .file("s.toml", format!("club = \"club.toml\"\n{GOOD}"));
    let ran = workdir.run(&["stocks", "far.toml"]);
    assert_eq!((ran.exit, ran.err.as_str()), (0, ""));
    let ran = workdir.run(&["show", "--card", "s.toml"]);
    assert!(
        ran.out.lines().nth(2).is_some_and(|line| line.starts_with("Club card ")),
        "{}",
        ran.out
    );
}

/// Nearer than 150 mm nobody reads a card, and capitals of a tenth of a millimetre are no print.
#[test]
fn a_reading_distance_nearer_than_any_eye_is_reported() {
    for (key, distance, least) in [("reading", 500, 149), ("footnotes", 350, 1)] {
        let a6 = include_str!("../../templates/cards/a6.toml");
        let text = a6.replace(&format!("\"{distance} mm\""), &format!("\"{least} mm\""));
        let text = match key {
            "reading" => text.replace("\"350 mm\"", &format!("\"{least} mm\"")),
            _ => text,
        };
        let ids: Vec<_> = Stock::read(&text).expect_err(key).iter().map(|f| f.rule.id).collect();
        assert!(ids.contains(&"over-limit"), "{key}: {ids:?}");
    }
}
