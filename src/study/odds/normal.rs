//! The normal distribution.

/// Value below which 95 % of a standard normal variable lies.
pub const Z_95: f64 = 1.6448536269514722;

/// Value below which a standard normal variable lies with probability `p`.
///
/// - `p`: in (0, 1); 0 and 1 give infinities
///
/// Relative error about 1e-16 (the source's own figure).
/// Source: M. J. Wichura, Algorithm AS 241, Applied Statistics 37 (1988) 477, routine PPND16.
pub fn normal_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180625 - q * q;
        return q * ratio(&CENTRE, r);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    if tail <= 0.0 {
        return q.signum() * f64::INFINITY;
    }
    let r = (-libm::log(tail)).sqrt();
    let size = if r <= 5.0 { ratio(&MIDDLE, r - 1.6) } else { ratio(&FAR, r - 5.0) };
    q.signum() * size
}

/// Probability that a standard normal variable lies below `z` [–].
///
/// Source: Φ(z) = erfc(−z/√2)/2, definition; the error function from the crate `libm`.
pub fn normal_share_below(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// Numerator and denominator, constant term first.
type Rational = [[f64; 8]; 2];

fn ratio([above, below]: &Rational, r: f64) -> f64 {
    let sum = |terms: &[f64; 8]| terms.iter().rev().fold(0.0, |sum, term| sum * r + term);
    sum(above) / sum(below)
}

#[rustfmt::skip]
const CENTRE: Rational = [
    [3.387_132_872_796_366_5, 1.331_416_678_917_843_8e2, 1.971_590_950_306_551_3e3, 1.373_169_376_550_946e4,
     4.592_195_393_154_987e4, 6.726_577_092_700_87e4, 3.343_057_558_358_813e4, 2.509_080_928_730_122_7e3],
    [1.0, 4.231_333_070_160_091e1, 6.871_870_074_920_579e2, 5.394_196_021_424_751e3,
     2.121_379_430_158_659_7e4, 3.930_789_580_009_271e4, 2.872_908_573_572_194_3e4, 5.226_495_278_852_545e3],
];
#[rustfmt::skip]
const MIDDLE: Rational = [
    [1.423_437_110_749_683_5, 4.630_337_846_156_546, 5.769_497_221_460_691, 3.647_848_324_763_204_5,
     1.270_458_252_452_368_4, 2.417_807_251_774_506e-1, 2.272_384_498_926_918_4e-2, 7.745_450_142_783_414e-4],
    [1.0, 2.053_191_626_637_759, 1.676_384_830_183_803_8, 6.897_673_349_851e-1,
     1.481_039_764_274_800_8e-1, 1.519_866_656_361_645_7e-2, 5.475_938_084_995_345e-4, 1.050_750_071_644_416_9e-9],
];
#[rustfmt::skip]
const FAR: Rational = [
    [6.657_904_643_501_103, 5.463_784_911_164_114, 1.784_826_539_917_291_3, 2.965_605_718_285_048_7e-1,
     2.653_218_952_657_612_4e-2, 1.242_660_947_388_078_4e-3, 2.711_555_568_743_487_6e-5, 2.010_334_399_292_288_1e-7],
    [1.0, 5.998_322_065_558_88e-1, 1.369_298_809_227_358e-1, 1.487_536_129_085_061_5e-2,
     7.868_691_311_456_133e-4, 1.846_318_317_510_054_7e-5, 1.421_511_758_316_446e-7, 2.044_263_103_389_939_8e-15],
];

#[cfg(test)]
mod tests {
    use super::normal_quantile;

    /// Expected: scipy 1.17.1, `scipy.stats.norm.ppf`.
    #[track_caller]
    fn check(p: f64, expected: f64) {
        let found = normal_quantile(p);
        let close = (found - expected).abs() <= 1e-14 * expected.abs().max(1.0);
        assert!(close, "{p}: {found}, not {expected}");
    }

    #[test]
    fn the_share_below_undoes_the_quantile() {
        for p in [0.01, 0.05, 0.5, 0.9, 0.999] {
            let back = super::normal_share_below(normal_quantile(p));
            assert!((back - p).abs() <= 1e-14, "{p}: {back}");
        }
    }

    #[test]
    fn quantiles_are_those_of_scipy() {
        check(1e-10, -6.361340902404056);
        check(0.0001, -3.7190164854556804);
        check(0.02, -2.053748910631823);
        check(0.05, -1.6448536269514729);
        check(0.25, -0.6744897501960817);
        check(0.5, 0.0);
        check(0.75, 0.6744897501960817);
        check(0.975, 1.959963984540054);
        check(0.999999, 4.753424308817087);
    }

    #[test]
    fn the_ends_are_infinite() {
        assert_eq!(normal_quantile(0.0), f64::NEG_INFINITY);
        assert_eq!(normal_quantile(1.0), f64::INFINITY);
    }
}
