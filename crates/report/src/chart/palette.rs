//! The colours of every chart: few, told apart by people with any colour vision.

/// Red, green and blue, each 0 to 255.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Colour(pub u8, pub u8, pub u8);

/// Texts and the lines that matter most.
pub(crate) const INK: Colour = Colour(0x1E, 0x27, 0x30);
/// Texts of second rank.
pub(crate) const SLATE: Colour = Colour(0x5A, 0x65, 0x70);
/// Grid lines.
pub(crate) const GRID: Colour = Colour(0xE6, 0xE8, 0xEA);
/// Marks that only give background.
pub(crate) const MIST: Colour = Colour(0xBF, 0xC6, 0xCC);
/// The sheet.
pub(crate) const PAPER: Colour = Colour(0xFF, 0xFF, 0xFF);

/// Deep water blue, the first colour of data.
pub(crate) const LAKE: Colour = Colour(0x1F, 0x6A, 0x8C);
/// Warm yellow, the colour of light and of the best.
pub(crate) const OCHRE: Colour = Colour(0xE2, 0x9B, 0x26);
/// Dark red violet.
pub(crate) const PLUM: Colour = Colour(0x4A, 0x16, 0x40);
/// Pale blue.
pub(crate) const SKY: Colour = Colour(0x9F, 0xC9, 0xDF);
/// Brick red.
pub(crate) const BRICK: Colour = Colour(0xB9, 0x55, 0x3C);
/// Green of reeds.
pub(crate) const REED: Colour = Colour(0x30, 0x9C, 0x8C);
/// Pale sand.
pub(crate) const DUNE: Colour = Colour(0xD8, 0xCE, 0xA8);

/// Colours for parts that stand side by side, in order of use.
pub(crate) const PARTS: [Colour; 7] = [LAKE, OCHRE, SKY, PLUM, BRICK, REED, DUNE];

/// Colour of a share from 0 (dark) to 1 (bright), lightness growing throughout.
pub(crate) fn ramp(share: f64) -> Colour {
    const STOPS: [Colour; 4] = [
        Colour(0x26, 0x1F, 0x4D),
        Colour(0x7A, 0x37, 0x60),
        Colour(0xC4, 0x6A, 0x45),
        Colour(0xF0, 0xBD, 0x57),
    ];
    let position = share.clamp(0.0, 1.0) * (STOPS.len() - 1) as f64;
    let low = (position.floor() as usize).min(STOPS.len() - 2);
    mix(STOPS[low], STOPS[low + 1], position - low as f64)
}

/// Colour between `from` (share 0) and `to` (share 1).
pub(crate) fn mix(from: Colour, to: Colour, share: f64) -> Colour {
    let between =
        |a: u8, b: u8| (f64::from(a) + (f64::from(b) - f64::from(a)) * share).round() as u8;
    Colour(
        between(from.0, to.0),
        between(from.1, to.1),
        between(from.2, to.2),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    type Matrix = [[f64; 3]; 3];

    /// Full dichromacy in linear RGB: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes,
    /// "A physiologically-based model for simulation of color vision deficiency", IEEE
    /// Trans. Vis. Comput. Graph. 15(6), 2009, severity 1.0 (from memory).
    const DEUTERANOPIA: Matrix = [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ];
    const PROTANOPIA: Matrix = [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ];
    const FULL_VISION: Matrix = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];

    /// IEC 61966-2-1 transfer curve (from memory).
    fn linear(channel: u8) -> f64 {
        let value = f64::from(channel) / 255.0;
        if value <= 0.04045 {
            value / 12.92
        } else {
            libm::pow((value + 0.055) / 1.055, 2.4)
        }
    }

    fn times(matrix: &Matrix, v: [f64; 3]) -> [f64; 3] {
        matrix.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
    }

    /// CIE 1976 L*a*b* for the D65 white of sRGB (from memory).
    fn lab(colour: Colour, vision: &Matrix) -> [f64; 3] {
        const TO_XYZ: Matrix = [
            [0.4124, 0.3576, 0.1805],
            [0.2126, 0.7152, 0.0722],
            [0.0193, 0.1192, 0.9505],
        ];
        let seen = times(vision, [colour.0, colour.1, colour.2].map(linear));
        let xyz = times(&TO_XYZ, seen.map(|v| v.clamp(0.0, 1.0)));
        let f = |t: f64| {
            if t > 216.0 / 24389.0 {
                libm::cbrt(t)
            } else {
                (24389.0 / 27.0 * t + 16.0) / 116.0
            }
        };
        let (x, y, z) = (f(xyz[0] / 0.9505), f(xyz[1]), f(xyz[2] / 1.089));
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    fn difference(a: Colour, b: Colour, vision: &Matrix) -> f64 {
        let (a, b) = (lab(a, vision), lab(b, vision));
        (0..3)
            .map(|i| (a[i] - b[i]) * (a[i] - b[i]))
            .sum::<f64>()
            .sqrt()
    }

    /// WCAG 2.1 contrast ratio against the sheet (from memory).
    fn contrast_to_paper(colour: Colour) -> f64 {
        let [r, g, b] = [colour.0, colour.1, colour.2].map(linear);
        1.05 / (0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05)
    }

    /// A difference of 20 in L*a*b* is told apart at a glance (common practice, no source).
    #[test]
    fn parts_differ_for_every_colour_vision() {
        for vision in [&FULL_VISION, &DEUTERANOPIA, &PROTANOPIA] {
            for (place, first) in PARTS.iter().enumerate() {
                for second in &PARTS[place + 1..] {
                    let seen = difference(*first, *second, vision);
                    assert!(seen > 20.0, "{first:?} {second:?}: {seen}");
                }
            }
        }
    }

    #[test]
    fn texts_are_readable_and_the_grid_stays_behind() {
        assert!(contrast_to_paper(INK) > 7.0);
        assert!(contrast_to_paper(SLATE) > 4.5);
        assert!(contrast_to_paper(GRID) < 1.3);
    }

    #[test]
    fn the_ramp_grows_lighter_for_every_colour_vision() {
        for vision in [&FULL_VISION, &DEUTERANOPIA, &PROTANOPIA] {
            let lightness: Vec<f64> = (0..=20)
                .map(|i| lab(ramp(f64::from(i) / 20.0), vision)[0])
                .collect();
            assert!(lightness.windows(2).all(|pair| pair[1] > pair[0] + 0.5));
        }
        assert_eq!(ramp(-1.0), ramp(0.0));
        assert_eq!(ramp(2.0), ramp(1.0));
    }
}
