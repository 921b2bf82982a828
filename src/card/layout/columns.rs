//! The columns, the same on all the cards of a session.

use crate::card::job::Job;
use crate::card::sizes::Sizes;
use crate::card::texts::for_each_set;
use crate::card::texts::set::printed_positions;

/// The columns, in points; the same on all the cards of a session.
#[derive(Clone, Copy, Debug)]
pub(in crate::card) struct CardColumns {
    pub width_pt: f32,
    /// Room at the left for the brackets of rounds.
    pub gutter_pt: f32,
    pub count_pt: f32,
    pub distance_pt: f32,
    pub rest_pt: f32,
    /// Between columns.
    pub gap_pt: f32,
}

impl CardColumns {
    /// Room for the stroke where there is no rest beside it.
    pub fn line_room_pt(&self) -> f32 {
        self.width_pt - self.gutter_pt - self.count_pt - self.distance_pt
    }

    /// One step of the gutter.
    pub fn bracket_pt(sizes: Sizes) -> f32 {
        sizes.body_pt * 0.9
    }
}

pub(in crate::card) fn columns(job: &Job, sizes: Sizes, width_pt: f32) -> CardColumns {
    let mut deepest = 0;
    let (mut count_pt, mut distance_pt, mut rest_pt) = (0.0_f32, 0.0_f32, 0.0_f32);
    // Above this the rest would crowd out the swim; longer rest lines wrap.
    let most_rest_pt = 0.46 * width_pt;
    for part in &job.texts.parts {
        for_each_set(&part.lines, &mut |set| {
            deepest = deepest.max(set.groups.len());
            count_pt = count_pt.max(set.count_em * sizes.swim_pt);
            distance_pt = distance_pt.max(set.distance_em * sizes.swim_pt);
            for (index, line) in set.rest.iter().enumerate() {
                let mut width = line.natural_width_pt(sizes.body_pt);
                if index > 0 && printed_positions(set.plan) > 4 {
                    // It takes two lines, each a little more than half: they are never quite alike.
                    width *= 0.6;
                }
                let width = width + rest_dial_pt(sizes);
                rest_pt = rest_pt.max(width.min(most_rest_pt));
            }
        });
    }
    let gutter_pt = CardColumns::bracket_pt(sizes) * deepest as f32;
    let gap_pt = 0.6 * sizes.body_pt;
    CardColumns { width_pt, gutter_pt, count_pt, distance_pt, rest_pt, gap_pt }
}

/// The dial with the gap before it.
pub(in crate::card) fn rest_dial_pt(sizes: Sizes) -> f32 {
    sizes.dial_pt + 0.4 * sizes.body_pt
}
