//! The colour space of the badge, given as PDF/A asks: sRGB as an ICC profile.
//!
//! Made here from published numbers, after ICC.1:2004-10 (version 4.2).

use std::sync::OnceLock;

use super::{PaintError, deflated};

/// Media white of the profile connection space, D50 (ICC.1:2004-10, 6.3.4.3).
const D50: [f64; 3] = [0.9642, 1.0, 0.8249];
/// The primaries of IEC 61966-2-1 adapted to D50 (the values of the ICC's own sRGB profile).
const RED: [f64; 3] = [0.436_07, 0.222_49, 0.013_92];
const GREEN: [f64; 3] = [0.385_15, 0.716_87, 0.097_08];
const BLUE: [f64; 3] = [0.143_07, 0.060_61, 0.714_10];
/// Bradford's adaptation from D65 to D50.
const ADAPTATION: [f64; 9] =
    [1.047_91, 0.022_93, -0.050_19, 0.029_60, 0.990_46, -0.017_07, -0.009_25, 0.015_06, 0.751_79];
/// IEC 61966-2-1: ((x + 0.055) / 1.055) ^ 2.4 from 0.04045 on, x / 12.92 below.
const CURVE: [f64; 5] = [2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.040_45];

/// The profile, compressed once a run.
pub(super) fn compressed() -> Result<Vec<u8>, PaintError> {
    static PROFILE: OnceLock<Vec<u8>> = OnceLock::new();
    match PROFILE.get() {
        Some(profile) => Ok(profile.clone()),
        None => {
            let profile = deflated(&srgb())?;
            Ok(PROFILE.get_or_init(|| profile).clone())
        }
    }
}

fn srgb() -> Vec<u8> {
    let data: [(&[&[u8; 4]], Vec<u8>); 8] = [
        (&[b"desc"], text("sRGB")),
        (&[b"cprt"], text("No copyright")),
        (&[b"wtpt"], fixed(b"XYZ ", &D50)),
        (&[b"chad"], fixed(b"sf32", &ADAPTATION)),
        (&[b"rXYZ"], fixed(b"XYZ ", &RED)),
        (&[b"gXYZ"], fixed(b"XYZ ", &GREEN)),
        (&[b"bXYZ"], fixed(b"XYZ ", &BLUE)),
        (&[b"rTRC", b"gTRC", b"bTRC"], curve()),
    ];
    let count: usize = data.iter().map(|(names, _)| names.len()).sum();
    let mut place = 128 + 4 + 12 * count;
    let mut table = (count as u32).to_be_bytes().to_vec();
    let mut body = Vec::new();
    for (names, bytes) in data {
        for name in names {
            table.extend(*name);
            table.extend((place as u32).to_be_bytes());
            table.extend((bytes.len() as u32).to_be_bytes());
        }
        let padded = bytes.len().next_multiple_of(4);
        place += padded;
        body.extend(bytes);
        body.resize(body.len().next_multiple_of(4), 0);
    }
    let mut profile = head(place as u32);
    profile.extend(table);
    profile.extend(body);
    profile
}

fn head(size: u32) -> Vec<u8> {
    let mut head = Vec::with_capacity(128);
    head.extend(size.to_be_bytes());
    head.extend([0; 4]);
    head.extend([4, 0x20, 0, 0]);
    head.extend(b"mntrRGB XYZ ");
    // The date of the profile; any will do if it never changes.
    for part in [2027_u16, 1, 1, 0, 0, 0] {
        head.extend(part.to_be_bytes());
    }
    head.extend(b"acsp");
    head.extend([0; 28]);
    D50.iter().for_each(|value| head.extend(s15_fixed16(*value)));
    head.resize(128, 0);
    head
}

/// A number in 1/65536.
fn s15_fixed16(value: f64) -> [u8; 4] {
    ((value * 65_536.0).round() as i32).to_be_bytes()
}

fn fixed(kind: &[u8; 4], values: &[f64]) -> Vec<u8> {
    let mut out = kind.to_vec();
    out.extend([0; 4]);
    values.iter().for_each(|value| out.extend(s15_fixed16(*value)));
    out
}

fn curve() -> Vec<u8> {
    let mut out = b"para".to_vec();
    // Function type 3: five parameters.
    out.extend([0, 0, 0, 0, 0, 3, 0, 0]);
    CURVE.iter().for_each(|value| out.extend(s15_fixed16(*value)));
    out
}

/// One text in English.
fn text(text: &str) -> Vec<u8> {
    let units: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
    let mut out = b"mluc".to_vec();
    out.extend([0; 4]);
    for number in [1_u32, 12] {
        out.extend(number.to_be_bytes());
    }
    out.extend(b"enUS");
    out.extend((units.len() as u32).to_be_bytes());
    out.extend(28_u32.to_be_bytes());
    out.extend(units);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_profile_is_laid_out_as_icc_asks() {
        // ICC.1:2004-10, 7.2 and 7.3: size first, "acsp" at 36, ten tags inside the profile,
        // each on a multiple of four.
        let profile = srgb();
        let number = |at: usize| {
            u32::from_be_bytes(profile[at..at + 4].try_into().expect("four bytes")) as usize
        };
        assert_eq!(number(0), profile.len());
        assert_eq!(&profile[36..40], b"acsp");
        assert_eq!(number(128), 10);
        for tag in 0..10 {
            let (place, length) = (number(132 + 12 * tag + 4), number(132 + 12 * tag + 8));
            assert!(place.is_multiple_of(4) && place >= 252 && place + length <= profile.len());
        }
        // sRGB's red in XYZ under D50, 0.4361 0.2225 0.0139 (IEC 61966-2-1, Bradford).
        assert_eq!(s15_fixed16(RED[0]), [0, 0, 0x6f, 0xa2]);
    }
}
