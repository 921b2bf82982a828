//! Invented sessions from a seed: the same seed, the same session.

/// A small generator of numbers (xorshift), so that a failing case can be made again.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// A number below `sides`.
    pub fn roll(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 20) % sides
    }

    pub fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[usize::try_from(self.roll(from.len() as u64)).expect("an index")]
    }
}

/// A session in a pool that is 25 long or whose lengths are written as such, of at most
/// `most_sets` sets a part.
pub fn session(seed: u64, most_sets: u64) -> String {
    let mut dice = Dice::new(seed);
    let pool =
        dice.pick(&["25 m", "25 m", "25 yd", "50 m", "20 yd", "33 1/3 m", "33 1/3 yd", "27 m"]);
    let level = dice.pick(&["beginner", "improver", "advanced"]);
    let pace = dice.pick(&["1:30", "1:52", "2:00", "2:37"]);
    let mut text = format!(
        "title = \"T\"\npool = \"{pool}\"\nlevel = \"{level}\"\ngoal = \"endurance\"\nfocus = \"f\"\npace = \"{pace}\"\n"
    );
    let kinds = ["warm-up", "pre-set", "main set", "post set", "cool-down"];
    for kind in kinds {
        if kind != "main set" && dice.roll(3) == 0 {
            continue;
        }
        text.push_str(&format!("[[part]]\nkind = \"{kind}\"\nsets = [\n"));
        for _ in 0..=dice.roll(most_sets) {
            if dice.roll(5) == 0 {
                let rounds = 2 + dice.roll(3);
                let (first, second) = (set(&mut dice), set(&mut dice));
                text.push_str(&format!("{{ rounds = {rounds}, sets = [ {first}, {second} ] }},\n"));
            } else {
                text.push_str(&set(&mut dice));
                text.push_str(",\n");
            }
        }
        text.push_str("]\n");
    }
    text
}

/// A ladder, a broken swim, a repeat of legs, or repeats that differ.
fn shaped(dice: &mut Dice) -> String {
    let line = dice.pick(&[
        "1 length-2 lengths-3 lengths-2 lengths-1 length free",
        "4 lengths-6 lengths-8 lengths free",
        "2 x 8 lengths broken 4 lengths-2 lengths-2 lengths, 10 s",
        "4 x 4 lengths kick/free",
        "3 x 3 lengths (1 length fly, 2 lengths free)",
        "6 x 2 lengths free, odd back, even free",
        "4 x 2 lengths IM order",
        "8 x 1 length free: 3 hard, 1 easy",
        "6 x 2 lengths free, every 3rd sprint",
        "12 x 1 length: 4 back, 4 breast, 4 free",
    ]);
    format!("{{ swim = \"{line}\", rest = \"{} s\" }}", 10 + 5 * dice.roll(5))
}

fn set(dice: &mut Dice) -> String {
    if dice.roll(6) == 0 {
        return shaped(dice);
    }
    let each = dice.pick(&[1, 2, 2, 2, 3, 4, 4, 6, 8, 12, 16]);
    let most = if each >= 8 { 2 } else { 8 };
    let repeats = 1 + dice.roll(most);
    let mode = dice.pick(&["free", "free", "back", "free kick", "IM", "drill", "pull"]);
    let fixed = if dice.roll(12) == 0 { ", fixed = true" } else { "" };
    let timing = if dice.roll(3) == 0 {
        // Long enough for any pool, stroke and pace above.
        let seconds = 15 + each * 200;
        format!("on = \"{}:{:02}\"", seconds / 60, seconds % 60)
    } else {
        format!("rest = \"{} s\"", 10 + 5 * dice.roll(5))
    };
    format!("{{ swim = \"{repeats} x {each} lengths {mode}\", {timing}{fixed} }}")
}
