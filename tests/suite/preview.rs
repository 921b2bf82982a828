//! Pictures of pages: their size, their ink, and what another rasteriser makes of the same page.

use std::process::{Command, Stdio};

use deckcard::paint::pdf::{self, Meta};
use deckcard::paint::png::{self, PictureError};
use deckcard::sheet::Sheet;

use crate::command::{GOOD, Workdir};
use crate::support::marked::{card, dimensions};
use crate::support::pictures::grey;

fn read(workdir: &Workdir, name: &str) -> Vec<u8> {
    std::fs::read(workdir.path(name)).unwrap_or_else(|_| panic!("{name} was not written"))
}

/// By hand: an edge is points x dpi / 72, so mm / 25.4 x dpi. A6 is 105 x 148 mm.
#[test]
fn a_picture_has_the_pages_size() {
    let workdir = Workdir::new().file("s.toml", GOOD);
    // 105 / 25.4 x 144 = 595.28, 148 / 25.4 x 144 = 839.06; at 100 dpi 413.39 and 582.68.
    for (dpi, size) in [("144", (595, 839)), ("100", (413, 583))] {
        let ran = workdir.run(&["preview", "s.toml", "--dpi", dpi]);
        assert_eq!((ran.exit, ran.out.as_str()), (0, ""), "{}", ran.err);
        assert_eq!(grey(&read(&workdir, "s-25m.png")).dimensions(), size);
    }
    // Without --dpi it is 144; the other pool has a name of its own.
    assert_eq!(workdir.run(&["preview", "s.toml", "--pool", "25 yd", "-o", "there.png"]).exit, 0);
    assert_eq!(grey(&read(&workdir, "there.png")).dimensions(), (595, 839));
    assert_eq!(workdir.run(&["preview", "s.toml", "--pool", "25 yd"]).exit, 0);
    assert_eq!(read(&workdir, "s-25yd.png"), read(&workdir, "there.png"));
    // A4 at 72 dpi, a pixel to the point: 595.28 x 841.89.
    let sheet = ["preview", "s.toml", "--sheet", "a4", "--dpi", "72", "-o", "sheet.png"];
    assert_eq!(workdir.run(&sheet).exit, 0);
    assert_eq!(grey(&read(&workdir, "sheet.png")).dimensions(), (595, 842));
}

/// By hand at 144 dpi, two pixels to the point: the card's bar goes from 20 to 105 / 25.4 x 72 =
/// 297.6 across and from 20 to 60 down; all else is paper.
#[test]
fn ink_is_where_the_card_has_ink() {
    let sheet = Sheet::of(card(dimensions("105 mm", "148 mm")));
    let meta = Meta { title: "Ink".into(), language: "en".into(), made: None };
    let bytes = pdf::write(&[sheet], &[], &meta).expect("a PDF");
    let picture = grey(&png::page(&bytes, 1, 144).expect("a picture"));
    for (x, y, pixel) in picture.enumerate_pixels() {
        let inside = (21..=296).contains(&x) && (21..=58).contains(&y);
        let outside = !(19..=298).contains(&x) || !(19..=60).contains(&y);
        match pixel.0[0] {
            0 => assert!(!outside, "ink at {x}, {y}"),
            255 => assert!(!inside, "no ink at {x}, {y}"),
            _ => assert!(!inside && !outside, "grey at {x}, {y}"),
        }
    }
    assert_eq!(png::every_page(&bytes, 144).expect("pictures").len(), 1);
    assert_eq!(png::page(&bytes, 0, 144), Err(PictureError::NoSuchPage { asked: 0, pages: 1 }));
}

#[test]
fn standard_output_gets_the_picture_and_nothing_else() {
    let workdir = Workdir::new().file("s.toml", GOOD);
    assert_eq!(workdir.run(&["preview", "s.toml"]).exit, 0);
    let output = Command::new(env!("CARGO_BIN_EXE_deckcard"))
        .current_dir(workdir.path(""))
        .args(["preview", "-", "-o", "-"])
        .stdin(Stdio::from(std::fs::File::open(workdir.path("s.toml")).expect("the session")))
        .output()
        .expect("the program runs");
    assert!(output.status.success());
    assert!(output.stdout == read(&workdir, "s-25m.png"), "the same session, the same picture");
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
}

#[test]
fn what_cannot_be_shown_is_refused() {
    let workdir = Workdir::new()
        .file("s.toml", GOOD)
        .file("bad.toml", GOOD.replace("8 x 50", "8 x 60"))
        .file("club.toml", "name = \"Hernmarsh Lane Club\"\n");
    let ran = workdir.run(&["preview", "s.toml", "--page", "9"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("there is no page 9: there is one page"), "{}", ran.err);
    let ran = workdir.run(&[
        "preview",
        "s.toml",
        "--sheet",
        "a4",
        "--duplex",
        "short-edge",
        "--page",
        "3",
    ]);
    assert!(ran.err.contains("there are 2 pages"), "{}", ran.err);
    for arguments in [
        ["s.toml", "--page", "0"],
        ["s.toml", "--dpi", "0"],
        ["s.toml", "--dpi", "1201"],
        ["club.toml", "--page", "1"],
        ["none.toml", "--page", "1"],
    ] {
        let ran = workdir.run(&[vec!["preview"], arguments.to_vec()].concat());
        assert_eq!(ran.exit, 2, "{arguments:?}: {}", ran.err);
    }
    // A6 at 1,200 dpi is within the limit of pixels, a sheet of A4 is not: 9,921 x 14,031.
    let ran = workdir.run(&["preview", "s.toml", "--sheet", "a4", "--dpi", "1200"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("9921 x 14031 pixels is too large"), "{}", ran.err);
    let ran = workdir.run(&["preview", "bad.toml"]);
    assert_eq!(ran.exit, 1);
    assert!(ran.err.contains("not-whole-lengths"), "{}", ran.err);
    assert!(!workdir.path("bad-25m.png").exists() && !workdir.path("s-25m.png").exists());
}

#[test]
fn print_writes_a_picture_of_every_page() {
    let lanes = "[[lane]]\nname = \"One\"\npace = \"2:30\"\n\n[[lane]]\nname = \"Two\"\npace = \"2:20\"\n\n";
    let workdir =
        Workdir::new().file("s.toml", GOOD.replacen("[[part]]", &format!("{lanes}[[part]]"), 1));
    assert_eq!(workdir.run(&["print", "s.toml", "--preview", "-o", "out"]).exit, 0);
    for name in ["s-25m.png", "s-25m-2.png", "s-25yd.png", "s-25yd-2.png"] {
        assert_eq!(grey(&read(&workdir, &format!("out/{name}"))).dimensions(), (595, 839));
    }
    assert_ne!(read(&workdir, "out/s-25m.png"), read(&workdir, "out/s-25m-2.png"));
    // They are the pictures preview makes.
    assert_eq!(workdir.run(&["preview", "s.toml", "--page", "2"]).exit, 0);
    assert!(read(&workdir, "s-25m-2.png") == read(&workdir, "out/s-25m-2.png"));
}

/// Poppler's picture of the same file, where poppler is installed. Edges of letters are drawn
/// differently by each; ink that is missing or out of its place would differ by far more.
/// Held: greys differ by 3 of 255 on average at most, and fewer than 1 pixel in 100 by half.
#[test]
fn another_rasteriser_draws_the_same() {
    let workdir = Workdir::new().file("s.toml", GOOD);
    let sheet = ["--sheet", "letter", "--gutter", "6 mm"];
    assert_eq!(
        workdir.run(&[vec!["print", "s.toml", "--as-written"], sheet.to_vec()].concat()).exit,
        0
    );
    let args = ["preview", "s.toml", "--dpi", "144"];
    assert_eq!(workdir.run(&[args.to_vec(), sheet.to_vec()].concat()).exit, 0);
    let ours = grey(&read(&workdir, "s-25m.png"));
    let poppler = Command::new("pdftoppm")
        .current_dir(workdir.path(""))
        .args(["-r", "144", "-gray", "-png", "-singlefile", "s-25m.pdf", "theirs"])
        .status();
    if poppler.is_err() {
        println!("skipped: pdftoppm is not installed");
        return;
    }
    let theirs = grey(&read(&workdir, "theirs.png"));
    assert_eq!(ours.dimensions(), theirs.dimensions());
    let pairs = || ours.as_raw().iter().zip(theirs.as_raw()).map(|(a, b)| a.abs_diff(*b));
    let mean = pairs().map(u64::from).sum::<u64>() as f64 / pairs().count() as f64;
    let far = pairs().filter(|off| *off > 127).count() as f64 / pairs().count() as f64;
    let ink = ours.as_raw().iter().filter(|grey| **grey < 128).count();
    println!("mean {mean:.2}, far {far:.5}, {ink} pixels of ink");
    assert!(ink > 1000, "a card is not blank");
    assert!(mean <= 3.0 && far < 0.01, "mean {mean}, far {far}");
}
