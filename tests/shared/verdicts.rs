//! Words of a certificate, which no output and no page uses of a prediction.

/// Words that would make a prediction sound like a certificate.
pub const VERDICTS: [&str; 14] = [
    "pass",
    "passes",
    "fail",
    "fails",
    "safe",
    "safely",
    "unsafe",
    "certified",
    "certify",
    "certifies",
    "approved",
    "compliant",
    "complies",
    "guaranteed",
];
