//! Factors on swim time, against steady whole-stroke freestyle.

use crate::reader::trade_words::TradeWord;
use crate::session::SpeedFactors;
use crate::session::words::{Effort, Mode, Stroke};

/// Factors on the time of a swim, in thousandths, one for every stroke, mode and effort: 1000 is
/// steady whole-stroke freestyle, 1600 takes six tenths longer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Factors {
    strokes: Vec<(Stroke, u32)>,
    modes: Vec<(Mode, u32)>,
    efforts: Vec<(Effort, u32)>,
}

/// Strokes: inside the ratios of the NCAA Division I 2016 A standards, yards, 100 and
/// 200, women and men (back 1.07-1.08, breast 1.21-1.24, fly 1.08-1.10, IM 1.10-1.11 of
/// freestyle). Those are trained swimmers; a coach sets what fits the lane.
const STROKES: [(Stroke, u32); 6] = [
    (Stroke::Free, 1000),
    (Stroke::Back, 1080),
    (Stroke::Breast, 1220),
    (Stroke::Fly, 1090),
    (Stroke::Im, 1100),
    (Stroke::Choice, 1000),
];

/// Modes: assumptions, no published ratio was found.
const MODES: [(Mode, u32); 5] = [
    (Mode::Swim, 1000),
    (Mode::Kick, 1600),
    (Mode::Pull, 1050),
    (Mode::Drill, 1300),
    (Mode::Scull, 2000),
];

/// Efforts: assumptions, no published ratio was found.
const EFFORTS: [(Effort, u32); 5] = [
    (Effort::Easy, 1100),
    (Effort::Steady, 1000),
    (Effort::Strong, 950),
    (Effort::Hard, 920),
    (Effort::Sprint, 880),
];

/// Where the factors of strokes come from, in words.
const STANDARDS: &str = "NCAA Division I 2016 A standards in yards, 100 and 200";

/// Every usual factor: its word, its thousandths, where it comes from.
pub fn usual() -> Vec<(&'static str, u32, String)> {
    let measured = || "the measure itself".to_owned();
    let assumed = || "assumed, no published ratio".to_owned();
    let strokes = STROKES.iter().map(|(stroke, factor)| {
        let source = match stroke {
            Stroke::Free => measured(),
            Stroke::Back => format!("{STANDARDS}: 1.07 to 1.08 of freestyle"),
            Stroke::Breast => format!("{STANDARDS}: 1.21 to 1.24"),
            Stroke::Fly => format!("{STANDARDS}: 1.08 to 1.10"),
            Stroke::Im => format!("{STANDARDS}: 1.10 to 1.11"),
            Stroke::Choice => "assumed to be freestyle".to_owned(),
        };
        (stroke.text(), *factor, source)
    });
    let modes = MODES.iter().map(|(mode, factor)| {
        (mode.text(), *factor, if *mode == Mode::Swim { measured() } else { assumed() })
    });
    let efforts = EFFORTS.iter().map(|(effort, factor)| {
        (effort.text(), *factor, if *effort == Effort::Steady { measured() } else { assumed() })
    });
    strokes.chain(modes).chain(efforts).collect()
}

impl Default for Factors {
    fn default() -> Self {
        Self { strokes: STROKES.to_vec(), modes: MODES.to_vec(), efforts: EFFORTS.to_vec() }
    }
}

impl Factors {
    /// The program's factors, with the club's in their place, with the session's in theirs.
    pub fn of_files(club: Option<&SpeedFactors>, session: &SpeedFactors) -> Self {
        let mut factors = Self::default();
        for written in club.into_iter().chain([session]) {
            for (stroke, factor) in &written.strokes {
                set(&mut factors.strokes, *stroke, factor.value.0);
            }
            for (mode, factor) in &written.modes {
                set(&mut factors.modes, *mode, factor.value.0);
            }
            for (effort, factor) in &written.efforts {
                set(&mut factors.efforts, *effort, factor.value.0);
            }
        }
        factors
    }

    /// The three factors of a swim; a set without an effort is swum steady.
    pub fn of(&self, stroke: Stroke, mode: Mode, effort: Option<Effort>) -> [u32; 3] {
        [
            get(&self.strokes, stroke),
            get(&self.modes, mode),
            effort.map_or(1000, |effort| get(&self.efforts, effort)),
        ]
    }
}

fn set<W: TradeWord>(table: &mut [(W, u32)], word: W, permille: u32) {
    if let Some(entry) = table.iter_mut().find(|(known, _)| *known == word) {
        entry.1 = permille;
    }
}

fn get<W: TradeWord>(table: &[(W, u32)], word: W) -> u32 {
    table.iter().find(|(known, _)| *known == word).map_or(1000, |(_, permille)| *permille)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NCAA Division I 2016 A standards, yards: stroke time / freestyle time over the
    /// same distance, in hundredths of a second.
    #[test]
    fn stroke_factors_lie_inside_the_published_ratios() {
        // men 100, men 200, women 100, women 200: free, back, breast, fly.
        let standards: [[u32; 4]; 4] = [
            [4237, 4544, 5208, 4585],
            [9334, 10033, 11307, 10243],
            [4779, 5151, 5904, 5156],
            [10382, 11195, 12742, 11422],
        ];
        let strokes = [Stroke::Back, Stroke::Breast, Stroke::Fly];
        for (column, stroke) in strokes.into_iter().enumerate() {
            // Ratios to two decimals, as such tables are quoted.
            let ratios = standards.map(|row| (row[column + 1] * 200 / row[0]).div_ceil(2) * 10);
            let (low, high) = (ratios.iter().min(), ratios.iter().max());
            let [ours, ..] = Factors::default().of(stroke, Mode::Swim, None);
            assert!(low <= Some(&ours) && Some(&ours) <= high, "{stroke}: {ours} in {ratios:?}");
        }
    }

    #[test]
    fn every_word_has_its_factor() {
        let factors = Factors::default();
        assert_eq!(factors.strokes.len(), Stroke::ALL.len());
        assert_eq!(factors.modes.len(), Mode::ALL.len());
        assert_eq!(factors.efforts.len(), Effort::ALL.len());
    }
}
