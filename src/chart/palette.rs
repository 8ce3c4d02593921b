//! Colours, dashes and markers in one fixed order; no meaning rests on colour alone.

use plotters::style::RGBAColor;

/// A colour with its opacity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ink {
    /// Red, green, blue, 0 to 255 each, sRGB.
    pub rgb: [u8; 3],
    /// Opacity, 0 to 1.
    pub alpha: f64,
}

impl Ink {
    /// A full colour.
    pub const fn new(red: u8, green: u8, blue: u8) -> Ink {
        Ink { rgb: [red, green, blue], alpha: 1.0 }
    }

    /// The same colour, thinner.
    pub const fn thin(self, alpha: f64) -> Ink {
        Ink { rgb: self.rgb, alpha }
    }

    /// The opaque colour that `share` of this one and the rest white make.
    pub fn on_white(self, share: f64) -> Ink {
        let mixed = |c: u8| (255.0 + share * (f64::from(c) - 255.0)).round() as u8;
        Ink { rgb: self.rgb.map(mixed), alpha: 1.0 }
    }

    pub(crate) fn colour(self) -> RGBAColor {
        RGBAColor(self.rgb[0], self.rgb[1], self.rgb[2], self.alpha)
    }

    /// Relative luminance [–], 0 to 1.
    ///
    /// Source: W3C, Web Content Accessibility Guidelines 2.1, definition of relative luminance.
    pub fn luminance(self) -> f64 {
        let [r, g, b] = self.rgb.map(|c| linear(f64::from(c) / 255.0));
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// Contrast against white [–], 1 to 21.
    ///
    /// Source: W3C, Web Content Accessibility Guidelines 2.1, definition of contrast ratio.
    pub fn contrast_on_white(self) -> f64 {
        1.05 / (self.luminance() + 0.05)
    }
}

/// The linear value of an sRGB component, both 0 to 1.
///
/// Source: IEC 61966-2-1, sRGB transfer function (from memory).
fn linear(value: f64) -> f64 {
    if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
}

/// The sRGB component of a linear value, both 0 to 1.
fn companded(value: f64) -> f64 {
    if value <= 0.0031308 { value * 12.92 } else { 1.055 * value.powf(1.0 / 2.4) - 0.055 }
}

/// Text and axes.
pub const INK: Ink = Ink::new(0x22, 0x26, 0x2B);
/// Second-rank text.
pub const GREY: Ink = Ink::new(0x5A, 0x61, 0x69);
/// Grid lines.
pub const GRID: Ink = Ink::new(0xE1, 0xE4, 0xE8);
/// Paper.
pub const PAPER: Ink = Ink::new(0xFF, 0xFF, 0xFF);
/// The time a flame burns.
pub const FLAME: Ink = Ink::new(0xFF, 0xF3, 0xB0);
/// The arrow that points from the flame.
pub const FLAME_ARROW: Ink = Ink::new(0xA3, 0x4A, 0x28);
/// Still air in a drawing of a layup.
pub const AIR: Ink = Ink::new(0xF1, 0xF5, 0xF9);

/// Skin in a drawing of a layup.
pub const SKIN_INK: Ink = Ink::new(0xF4, 0xDD, 0xD3);

/// What lies within limits.
pub const WITHIN: Ink = GREY.thin(0.34);

/// Fills of plies, the outermost first, over and over: none is a series'.
pub const PLIES: [Ink; 3] =
    [Ink::new(0x9A, 0x91, 0x86), Ink::new(0xD9, 0xD4, 0xCB), Ink::new(0xB9, 0xB1, 0xA5)];

/// Fill of a ply, the outermost being 0.
pub fn ply_ink(i: usize) -> Ink {
    PLIES[i % PLIES.len()]
}

/// What of a series' ink its ribbon has [–].
pub const RIBBON: f64 = 0.2;
/// What of a series' ink a shaded range of its own has [–].
pub const BAND: f64 = 0.15;
/// What of a series' ink its bars have, the rest paper [–].
pub const BAR_SHARE: f64 = 0.55;

/// A pattern of drawn and left-out lengths.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dash {
    /// An unbroken line.
    Full,
    /// Long dashes.
    Long,
    /// Short dashes.
    Short,
    /// Dots.
    Dot,
    /// Dash and dot in turn.
    DashDot,
    /// Dash and two dots in turn.
    DashDotDot,
    /// Very long dashes.
    Wide,
}

impl Dash {
    /// Drawn and left-out lengths in turn [px]; empty for an unbroken line.
    pub fn pattern(self) -> &'static [f64] {
        match self {
            Dash::Full => &[],
            Dash::Long => &[9.0, 4.0],
            Dash::Short => &[4.5, 3.0],
            Dash::Dot => &[1.8, 2.6],
            Dash::DashDot => &[9.0, 3.0, 2.0, 3.0],
            Dash::DashDotDot => &[9.0, 3.0, 2.0, 3.0, 2.0, 3.0],
            Dash::Wide => &[18.0, 5.0],
        }
    }
}

/// The shape of a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Marker {
    /// A filled circle.
    Circle,
    /// A filled square.
    Square,
    /// A filled triangle on its base.
    Triangle,
    /// A filled diamond.
    Diamond,
    /// A filled triangle on its tip.
    TriangleDown,
    /// An upright cross.
    Plus,
    /// A cross of two diagonals.
    Cross,
}

/// How one series is told from another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Its colour.
    pub ink: Ink,
    /// Its dash.
    pub dash: Dash,
    /// Its marker.
    pub marker: Marker,
}

const fn look(ink: Ink, dash: Dash, marker: Marker) -> Look {
    Look { ink, dash, marker }
}

/// The looks in their fixed order; more series than these belong in two charts.
///
/// Source: vermillion, bluish green and reddish purple are those of Okabe and Ito, Color
/// Universal Design (2008), from memory; near-black, brown, and their blue and sky blue darkened
/// are our own. Their yellow and orange are left out: too pale on white.
pub const LOOKS: [Look; 7] = [
    look(Ink::new(0x00, 0x5A, 0x9C), Dash::Full, Marker::Circle),
    look(Ink::new(0xD5, 0x5E, 0x00), Dash::Long, Marker::Square),
    look(Ink::new(0x00, 0x9E, 0x73), Dash::DashDot, Marker::Triangle),
    look(Ink::new(0xCC, 0x79, 0xA7), Dash::Short, Marker::Diamond),
    look(Ink::new(0x1A, 0x1A, 0x1A), Dash::Dot, Marker::TriangleDown),
    look(Ink::new(0x6B, 0x3A, 0x0A), Dash::DashDotDot, Marker::Plus),
    look(Ink::new(0x47, 0x99, 0xD4), Dash::Wide, Marker::Cross),
];

/// A colour of the ramp for `share` 0 (pale) to 1 (dark).
///
/// Lightness L* falls in a straight line from 95 to 24 while the hue turns from straw
/// to plum, so equal steps of the value look like equal steps of darkness, also without colour.
/// Values outside 0 to 1 are a mistake of the caller.
///
/// Source: CIELAB of CIE 15 with white D65, sRGB of IEC 61966-2-1 (constants from memory); the four
/// control points of chroma and hue are our own.
pub fn ramp(share: f64) -> Ink {
    assert!((0.0..=1.0).contains(&share), "a ramp runs from 0 to 1");
    const CHROMA: [f64; 4] = [12.0, 52.0, 62.0, 34.0];
    const HUE_DEG: [f64; 4] = [92.0, 72.0, 36.0, 0.0];
    let place = share * 3.0;
    let i = (place as usize).min(2);
    let between = |points: &[f64; 4]| points[i] + (place - i as f64) * (points[i + 1] - points[i]);
    let (chroma, hue) = (between(&CHROMA), between(&HUE_DEG).to_radians());
    from_lab([95.0 - 71.0 * share, chroma * hue.cos(), chroma * hue.sin()])
}

/// The colour of a time that protects within a range: the shortest darkest, the longest palest, in every chart.
pub fn time_ink(t: f64, (low, high): (f64, f64)) -> Ink {
    ramp(((high - t) / (high - low)).clamp(0.0, 1.0))
}

fn from_lab([l, a, b]: [f64; 3]) -> Ink {
    let fy = (l + 16.0) / 116.0;
    let back = |f: f64| {
        if f > 6.0 / 29.0 { f * f * f } else { 3.0 * (6.0f64 / 29.0).powi(2) * (f - 4.0 / 29.0) }
    };
    let (x, y, z) = (0.95047 * back(fy + a / 500.0), back(fy), 1.08883 * back(fy - b / 200.0));
    let rgb = [
        3.2406 * x - 1.5372 * y - 0.4986 * z,
        -0.9689 * x + 1.8758 * y + 0.0415 * z,
        0.0557 * x - 0.2040 * y + 1.0570 * z,
    ];
    Ink { rgb: rgb.map(|v| (companded(v.clamp(0.0, 1.0)) * 255.0).round() as u8), alpha: 1.0 }
}

/// Colour of the nth shaded range of x: the flame's first.
pub(crate) fn band_ink(i: usize) -> Ink {
    if i == 0 { FLAME } else { LOOKS[(i - 1) % LOOKS.len()].ink.thin(BAND) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// CIE lightness of a colour.
    fn lightness(ink: Ink) -> f64 {
        116.0 * ink.luminance().cbrt() - 16.0
    }

    #[test]
    fn lines_stand_out_from_the_paper() {
        // W3C, Web Content Accessibility Guidelines 2.1, success criterion 1.4.11: 3 to 1.
        for look in LOOKS {
            assert!(look.ink.contrast_on_white() >= 3.0, "{look:?}");
        }
        // success criterion 1.4.3, text: 4.5 to 1
        for ink in [INK, GREY] {
            assert!(ink.contrast_on_white() >= 4.5, "{ink:?}");
        }
    }

    #[test]
    fn black_on_white_has_a_contrast_of_21() {
        // W3C, Web Content Accessibility Guidelines 2.1: the ratio runs from 1 to 21.
        assert!((Ink::new(0, 0, 0).contrast_on_white() - 21.0).abs() < 1e-9);
    }

    #[test]
    fn no_two_looks_share_a_dash_or_a_marker() {
        for (i, a) in LOOKS.iter().enumerate() {
            for b in &LOOKS[i + 1..] {
                assert!(a.dash != b.dash && a.marker != b.marker);
            }
        }
    }

    /// CIELAB of a linear RGB colour, white D65.
    fn lab([r, g, b]: [f64; 3]) -> [f64; 3] {
        let f = |v: f64| if v > 0.008856 { v.cbrt() } else { 7.787 * v + 16.0 / 116.0 };
        let x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
        let y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
        let z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    #[test]
    fn colours_stay_apart_for_the_colour_blind() {
        // Vienot, Brettel, Mollon, Color Research and Application 24 (1999), digital video
        // colourmaps for checking the legibility of displays by dichromats: protan and deutan
        // matrices in linear RGB, from memory. A difference of 2.3 is just noticeable; 15 is our choice.
        const PROTAN: [f64; 6] = [0.11238, 0.88762, 0.0, 0.00401, -0.00401, 1.0];
        const DEUTAN: [f64; 6] = [0.29275, 0.70725, 0.0, -0.02234, 0.02234, 1.0];
        for m in [PROTAN, DEUTAN] {
            let seen = LOOKS.map(|look| {
                let [r, g, b] = look.ink.rgb.map(|c| linear(f64::from(c) / 255.0));
                let red_green = m[0] * r + m[1] * g + m[2] * b;
                lab([red_green, red_green, m[3] * r + m[4] * g + m[5] * b])
            });
            for i in 0..seen.len() {
                for j in i + 1..seen.len() {
                    let apart: f64 =
                        (0..3).map(|k| (seen[i][k] - seen[j][k]).powi(2)).sum::<f64>().sqrt();
                    assert!(apart >= 15.0, "looks {i} and {j}: {apart}");
                }
            }
        }
    }

    #[test]
    fn the_ramp_darkens_evenly() {
        let steps: Vec<f64> = (0..=20).map(|i| lightness(ramp(f64::from(i) / 20.0))).collect();
        for pair in steps.windows(2) {
            let step = pair[0] - pair[1];
            // 71 / 20 = 3.55 a step; 0.6 for rounding to 8 bits
            assert!((step - 3.55).abs() < 0.6, "{steps:?}");
        }
    }
}
