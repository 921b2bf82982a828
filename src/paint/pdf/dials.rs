//! Clock faces. The few kinds that a document is full of are drawn once, as forms
//! (ISO 32000-1, 8.10), and placed by name; the others are drawn in place.

use std::collections::BTreeMap;

use printpdf::{DictItem, XObject, XObjectId};

use super::fonts::items;
use super::ink::{grey, hundredths, number};
use super::pictures::{external, pdf_name};
use super::place::steps;
use super::{LONG, PaintError, deflated, is_long};
use crate::drawing::{Dial, Mark, Point};
use crate::sheet::Sheet;

/// The side of the square that a dial is drawn in: hundredths of its units are fine enough.
pub(super) const SIDE: f32 = 10.0;

/// The dials drawn once, each with its number.
pub(super) struct Dials(BTreeMap<Dial, usize>);

impl Dials {
    /// Those that `sheets` show often, where they are many.
    pub fn used_by(sheets: &[Sheet]) -> Self {
        if !is_long(sheets) {
            return Dials(BTreeMap::new());
        }
        let mut counts: BTreeMap<&Dial, usize> = BTreeMap::new();
        for item in items(sheets) {
            if let Mark::Dial(_, _, dial) = &item.mark {
                *counts.entry(dial).or_default() += 1;
            }
        }
        let often = counts.into_iter().filter(|(_, count)| *count >= LONG);
        Dials(often.zip(0..).map(|((dial, _), number)| (dial.clone(), number)).collect())
    }

    /// Adds the operators that draw `dial` in its square.
    pub fn draw(&self, out: &mut Vec<u8>, dial: &Dial) {
        match self.0.get(dial) {
            Some(number) => {
                out.push(b'/');
                out.extend(name(*number).as_bytes());
                out.extend(b" Do");
            }
            None => {
                out.push(b'\n');
                out.extend(drawn(dial));
            }
        }
    }

    /// The forms as the writer takes them.
    pub fn handed_over(&self) -> Result<Vec<(XObjectId, XObject)>, PaintError> {
        let form = |(dial, number): (&Dial, &usize)| Ok((XObjectId(name(*number)), form(dial)?));
        self.0.iter().map(form).collect()
    }
}

fn name(number: usize) -> String {
    format!("D{number}")
}

fn form(dial: &Dial) -> Result<XObject, PaintError> {
    // Readers clip a form to its box: one that touched the ring would thin it.
    let (low, high) = (-1, SIDE as i64 + 1);
    let dict = [
        ("Subtype", pdf_name("Form")),
        ("BBox", DictItem::Array([low, low, high, high].map(DictItem::Int).to_vec())),
    ];
    Ok(external(&dict, deflated(&drawn(dial))?))
}

/// The operators for `dial`, whatever was set before.
fn drawn(dial: &Dial) -> Vec<u8> {
    let mut out = Vec::new();
    let up = |p: Point| (hundredths(SIDE * p.x_pt), hundredths(SIDE * (1.0 - p.y_pt)));
    for mark in dial.marks() {
        match &mark {
            Mark::Fill(path, ink) => {
                grey(&mut out, *ink, b" g\n");
                steps(&mut out, path, up);
                out.extend(b"f\n");
            }
            Mark::Stroke(path, width, ink) => {
                grey(&mut out, *ink, b" G\n");
                number(&mut out, hundredths(SIDE * width));
                out.extend(b"w\n");
                steps(&mut out, path, up);
                out.extend(b"S\n");
            }
            // A dial is made of paths alone.
            Mark::Text(_) | Mark::Picture(..) | Mark::Dial(..) => {}
        }
    }
    out
}
