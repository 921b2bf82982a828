//! Moves the places of a session's head: it is read from keys that were made of a message's facts, and
//! its places are those of the message.

use crate::finding::{Place, Placed};
use crate::session::{Lane, Session, SpeedFactors};

/// Moves the place of a value.
fn one<T>(placed: &mut Placed<T>, moved: &dyn Fn(Place) -> Place) {
    placed.place = moved(placed.place);
}

impl Session {
    /// Moves the places of all that stands at the head.
    pub(super) fn move_places(&mut self, moved: &dyn Fn(Place) -> Place) {
        one(&mut self.title, moved);
        one(&mut self.level, moved);
        self.goal.iter_mut().for_each(|goal| one(goal, moved));
        self.focus.iter_mut().for_each(|focus| one(focus, moved));
        self.date.iter_mut().for_each(|date| one(date, moved));
        self.pool.iter_mut().for_each(|pool| one(pool, moved));
        self.also.iter_mut().for_each(|also| one(also, moved));
        self.keep.iter_mut().for_each(|keep| one(keep, moved));
        self.booked.iter_mut().for_each(|booked| one(booked, moved));
        self.starts.iter_mut().for_each(|starts| one(starts, moved));
        self.pace.iter_mut().for_each(|pace| one(pace, moved));
        self.changeover.iter_mut().for_each(|pause| one(pause, moved));
        self.gear.iter_mut().for_each(|gear| one(gear, moved));
        self.strokes_per_length.iter_mut().for_each(|strokes| one(strokes, moved));
        self.language.iter_mut().for_each(|language| one(language, moved));
        self.speed.move_places(moved);
        for allow in &mut self.allow {
            one(&mut allow.finding, moved);
            one(&mut allow.because, moved);
            allow.place = moved(allow.place);
        }
        self.lanes.iter_mut().for_each(|lane| lane.move_places(moved));
    }
}

impl Lane {
    fn move_places(&mut self, moved: &dyn Fn(Place) -> Place) {
        one(&mut self.name, moved);
        one(&mut self.pace, moved);
        self.swimmers.iter_mut().for_each(|swimmers| one(swimmers, moved));
        self.gap.iter_mut().for_each(|gap| one(gap, moved));
        self.stretch.iter_mut().for_each(|stretch| one(stretch, moved));
        self.strokes_per_length.iter_mut().for_each(|strokes| one(strokes, moved));
    }
}

impl SpeedFactors {
    fn move_places(&mut self, moved: &dyn Fn(Place) -> Place) {
        self.strokes.iter_mut().for_each(|(_, factor)| one(factor, moved));
        self.modes.iter_mut().for_each(|(_, factor)| one(factor, moved));
        self.efforts.iter_mut().for_each(|(_, factor)| one(factor, moved));
        self.changeover.iter_mut().for_each(|pause| one(pause, moved));
    }
}
