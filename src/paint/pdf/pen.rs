//! One sheet as a content stream, each piece marked with what it is.

use super::dials::{self, Dials};
use super::fonts::{EmbeddedFont, Fonts};
use super::ink::{grey, hundredths, number, tenths, whole};
use super::pictures::Pictures;
use super::place::{Coordinates, Matrix, drawn_area, on_sheet, rectangle, steps};
use super::show::{Show, kern};
use super::tags::{Element, Kid, Tag, Tagger};
use super::{PaintError, deflated};
use crate::drawing::{Area, Font, Ink, Item, Mark, Path, Point, Role, Run};
use crate::sheet::{Placement, Sheet};

/// A sheet as bytes, with its part of the structure tree.
pub(super) struct Painted {
    /// The content stream, in pieces that are compressed.
    pub content: Vec<Piece>,
    pub elements: Vec<Element>,
    /// The element of each marked piece of content.
    pub owners: Vec<usize>,
    /// The element of each of the sheet's links.
    pub links: Vec<usize>,
}

/// A piece of a content stream.
pub(super) enum Piece {
    /// The sheet's own.
    Own(Vec<u8>),
    /// The same on other sheets, byte for byte.
    Common(Vec<u8>),
}

impl Piece {
    fn compressed(self) -> Result<Self, PaintError> {
        Ok(match self {
            Piece::Own(bytes) => Piece::Own(deflated(&bytes)?),
            Piece::Common(bytes) => Piece::Common(deflated(&bytes)?),
        })
    }
}

/// Paints one sheet; in a `long` document, what its sheets have in common is a piece of its own.
pub(super) fn paint(
    sheet: &Sheet,
    fonts: &Fonts,
    pictures: &Pictures,
    dials: &Dials,
    long: bool,
) -> Result<Painted, PaintError> {
    let mut pen = Pen {
        out: Vec::with_capacity(8 * 1024),
        done: Vec::new(),
        // Several cards on a sheet share a stream as it is; and not every reader takes the same
        // piece twice on a page.
        apart: long && sheet.placed.len() == 1,
        fonts,
        pictures,
        dials,
        tagger: Tagger::default(),
        links: vec![None; sheet.links.len()],
        state: State::NEW,
        open: Open::Nothing,
    };
    for placed in &sheet.placed {
        pen.card(placed, sheet);
    }
    let upright = Coordinates { height_pt: sheet.paper.height_pt, matrix: Matrix::UNTURNED };
    sheet.marks.iter().for_each(|item| pen.draw(item, None, &upright));
    pen.close();
    let links = pen.link_elements();
    pen.cut(Piece::Own);
    let content = pen.done.into_iter().map(Piece::compressed).collect::<Result<_, _>>()?;
    let Tagger { elements, owners, .. } = pen.tagger;
    Ok(Painted { content, elements, owners, links })
}

/// What is open in the stream.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Open {
    Nothing,
    Artifact,
    /// A piece of an element.
    Piece(usize),
    /// A piece that is the same on other sheets.
    Common(usize),
}

/// What the stream has set already.
#[derive(Clone, Copy)]
struct State {
    fill: Option<Ink>,
    stroke: Option<Ink>,
    width: Option<i32>,
    font: Option<(Font, i32)>,
    /// Where the last line of text began, inside a text object.
    line: Option<(i32, i32)>,
}

impl State {
    const UNKNOWN: State = State { fill: None, stroke: None, width: None, font: None, line: None };
    /// As a page begins.
    const NEW: State = State { fill: Some(Ink::BLACK), stroke: Some(Ink::BLACK), ..Self::UNKNOWN };
}

struct Pen<'a> {
    /// The piece being written.
    out: Vec<u8>,
    /// The pieces before it.
    done: Vec<Piece>,
    /// Whether what sheets have in common is a piece of its own.
    apart: bool,
    fonts: &'a Fonts,
    pictures: &'a Pictures,
    dials: &'a Dials,
    tagger: Tagger,
    links: Vec<Option<usize>>,
    state: State,
    open: Open,
}

impl Pen<'_> {
    fn card(&mut self, placed: &Placement, sheet: &Sheet) {
        let matrix = Matrix::of(placed, sheet.paper);
        self.tagger.begin_card();
        let turned = matrix.0 != Matrix::UNTURNED.0;
        if turned {
            self.close();
        }
        let before = self.state;
        if turned {
            self.out.extend(b"q ");
            matrix.0.iter().for_each(|n| number(&mut self.out, hundredths(*n)));
            self.out.extend(b"cm\n");
        }
        let coordinates = Coordinates { height_pt: placed.card.trim.height_pt, matrix };
        // Rules and bars first and at once: each change between what is heard and what is not
        // takes room.
        let (silent, rest): (Vec<&Item>, Vec<&Item>) =
            placed.card.items.iter().partition(|item| item.is_rule());
        for item in silent.into_iter().chain(rest) {
            self.draw(item, Some(sheet), &coordinates);
        }
        if turned {
            self.close();
            self.out.extend(b"Q\n");
            self.state = before;
        }
    }

    /// Draws `item`; what is not on a card is never read aloud.
    fn draw(&mut self, item: &Item, sheet: Option<&Sheet>, coordinates: &Coordinates) {
        let element = sheet.and_then(|sheet| {
            let element = self.tagger.element(item)?;
            if let Some(area) = drawn_area(&item.mark) {
                self.tagger.cover(element, on_sheet(area, coordinates, sheet.paper));
            }
            Some(self.linked(element, item, coordinates, sheet))
        });
        self.piece(element, self.apart && item.role == Role::Safety);
        match &item.mark {
            Mark::Text(run) => self.text(run, coordinates.height_pt),
            Mark::Fill(path, ink) => {
                self.fill(*ink);
                self.path(path, coordinates.height_pt, b"f");
            }
            Mark::Stroke(path, width_pt, ink) => {
                self.stroke(*ink, hundredths(*width_pt));
                self.path(path, coordinates.height_pt, b"S");
            }
            Mark::Picture(at, size, badge) => {
                let Some(name) = self.pictures.name(badge, *size) else { return };
                let lower = hundredths(coordinates.height_pt - at.y_pt - size.height_pt);
                let (width, height) = (hundredths(size.width_pt), hundredths(size.height_pt));
                self.scaled(width, height, hundredths(at.x_pt), lower);
                self.out.push(b'/');
                self.out.extend(name.as_bytes());
                self.out.extend(b" Do Q\n");
            }
            Mark::Dial(at, width_pt, dial) => {
                let scale = hundredths(width_pt / dials::SIDE);
                let lower = tenths(coordinates.height_pt - at.y_pt - width_pt);
                self.scaled(scale, scale, tenths(at.x_pt), lower);
                self.dials.draw(&mut self.out, dial);
                self.out.extend(b" Q\n");
            }
        }
    }

    /// Draws what follows larger, from this corner on, until `Q`.
    fn scaled(&mut self, x_scale: i32, y_scale: i32, x: i32, y: i32) {
        self.end_text();
        self.out.extend(b"q ");
        for part in [x_scale, 0, 0, y_scale, x, y] {
            number(&mut self.out, part);
        }
        self.out.extend(b"cm");
    }

    /// The link that `item` is in, inside `element`, or the element itself.
    fn linked(
        &mut self,
        element: usize,
        item: &Item,
        coordinates: &Coordinates,
        sheet: &Sheet,
    ) -> usize {
        let Mark::Text(run) = &item.mark else { return element };
        let at = coordinates.on_sheet(run.at, sheet.paper);
        let inside = |area: &Area| {
            (area.left_pt - 0.1..=area.right_pt).contains(&at.x_pt)
                && (area.top_pt..=area.bottom_pt).contains(&at.y_pt)
        };
        let Some(index) = sheet.links.iter().position(|link| inside(&link.area)) else {
            return element;
        };
        let tagger = &mut self.tagger;
        *self.links[index].get_or_insert_with(|| tagger.add(Tag::Link, Some(element)))
    }

    /// The element of each link; one that has no text gets a paragraph at the end.
    fn link_elements(&mut self) -> Vec<usize> {
        let mut elements = Vec::new();
        for (index, link) in self.links.iter().enumerate() {
            let element = link.unwrap_or_else(|| {
                let paragraph = self.tagger.add(Tag::Paragraph, None);
                self.tagger.add(Tag::Link, Some(paragraph))
            });
            self.tagger.elements[element].kids.push(Kid::Link(index));
            elements.push(element);
        }
        elements
    }

    /// Goes on inside `element`, or outside the tree.
    fn piece(&mut self, element: Option<usize>, is_common: bool) {
        let wanted = match element {
            None => Open::Artifact,
            Some(element) if is_common => Open::Common(element),
            Some(element) => Open::Piece(element),
        };
        if self.open == wanted {
            return;
        }
        self.close();
        match element {
            Some(element) => {
                let mark = self.tagger.mark(element);
                self.out.push(b'/');
                self.out.extend(self.tagger.elements[element].tag.name().as_bytes());
                self.out.extend(b"<</MCID ");
                whole(&mut self.out, mark);
                self.out.extend(b">>BDC\n");
            }
            None => self.out.extend(b"/Artifact BMC\n"),
        }
        if is_common {
            // Its number in the tree stays with the sheet.
            self.cut(Piece::Own);
        }
        self.open = wanted;
    }

    fn close(&mut self) {
        self.end_text();
        if self.open != Open::Nothing {
            self.out.extend(b"EMC\n");
        }
        if matches!(self.open, Open::Common(_)) {
            self.cut(Piece::Common);
        }
        self.open = Open::Nothing;
    }

    /// Ends the piece of the stream; the next can follow any other.
    fn cut(&mut self, piece: fn(Vec<u8>) -> Piece) {
        if !self.out.is_empty() {
            self.done.push(piece(std::mem::take(&mut self.out)));
        }
        self.state = State::UNKNOWN;
    }

    fn end_text(&mut self) {
        if self.state.line.take().is_some() {
            self.out.extend(b"ET\n");
        }
    }

    fn fill(&mut self, ink: Ink) {
        if self.state.fill != Some(ink) {
            grey(&mut self.out, ink, b" g\n");
            self.state.fill = Some(ink);
        }
    }

    fn stroke(&mut self, ink: Ink, width: i32) {
        if self.state.stroke != Some(ink) {
            grey(&mut self.out, ink, b" G\n");
            self.state.stroke = Some(ink);
        }
        if self.state.width != Some(width) {
            number(&mut self.out, width);
            self.out.extend(b"w\n");
            self.state.width = Some(width);
        }
    }

    fn path(&mut self, path: &Path, height_pt: f32, paint: &[u8]) {
        self.end_text();
        let up = |point: Point| (hundredths(point.x_pt), hundredths(height_pt - point.y_pt));
        if let Some([x, y, width, height]) = rectangle(path, height_pt) {
            [x, y, width, height].into_iter().for_each(|n| number(&mut self.out, n));
            self.out.extend(b"re ");
        } else {
            steps(&mut self.out, path, up);
        }
        self.out.extend(paint);
        self.out.push(b'\n');
    }

    fn text(&mut self, run: &Run, height_pt: f32) {
        let Some(EmbeddedFont { subset, codes }) = self.fonts.of(run.font) else { return };
        self.fill(run.ink);
        if self.state.line.is_none() {
            self.out.extend(b"BT\n");
            self.state.line = Some((0, 0));
        }
        let size = hundredths(run.size_pt);
        if self.state.font != Some((run.font, size)) {
            self.out.push(b'/');
            self.out.extend(subset.resource.as_bytes());
            self.out.push(b' ');
            number(&mut self.out, size);
            self.out.extend(b"Tf\n");
            self.state.font = Some((run.font, size));
        }
        let per_unit = run.size_pt / run.font.units_per_em() as f32;
        let x_pt = |units: i32| run.at.x_pt + units as f32 * per_unit;
        let mut pen_units = 0;
        let mut show = Show::of(codes, run.size_pt);
        for glyph in run.glyphs.iter() {
            let stands_off = glyph.dx != 0 || glyph.dy != 0;
            if show.is_empty() || stands_off {
                // A mark set on its letter is off the baseline.
                show.end(&mut self.out);
                let y_pt = run.at.y_pt - glyph.dy as f32 * per_unit;
                let (x, y) = (tenths(x_pt(pen_units + glyph.dx)), tenths(height_pt - y_pt));
                self.move_to(x, y);
            }
            let kern = match stands_off {
                true => 0,
                false => kern(glyph.width - glyph.advance, run.font),
            };
            if let Some(id) = subset.glyphs.get(glyph.id) {
                show.glyph(&mut self.out, id, kern);
            }
            if stands_off {
                show.end(&mut self.out);
            }
            pen_units += glyph.advance;
        }
        show.end(&mut self.out);
    }

    /// Begins a line of text here.
    fn move_to(&mut self, x: i32, y: i32) {
        let (last_x, last_y) = self.state.line.unwrap_or_default();
        number(&mut self.out, x.saturating_sub(last_x));
        number(&mut self.out, y.saturating_sub(last_y));
        self.out.extend(b"Td");
        self.state.line = Some((x, y));
    }
}
