//! Compound leaves: leaflets along a stalk or from one point, once or several times over.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::leaf::shape::{BLUNT, Leaf, ROUND, small};
use crate::sketch::pen::{Look, Pen};

/// Terms for division.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("simple", |pen| {
        Leaf::new(1.8, 0.4, [ROUND, BLUNT]).draw(pen, Look::Line);
        bud(pen);
    }),
    ("pinnate", |pen| {
        pinnate(pen, 4, [Look::Paper, Look::Paper]);
        tip(pen, Look::Paper);
        bud(pen);
    }),
    ("odd-pinnate", |pen| {
        pinnate(pen, 4, [Look::FaintPaper, Look::FaintPaper]);
        tip(pen, Look::Ink);
    }),
    ("even-pinnate", |pen| pinnate(pen, 5, [Look::FaintPaper, Look::Ink])),
    ("interruptedly pinnate", interrupted),
    ("bipinnate", |pen| bipinnate(pen, [Look::Line; 3])),
    ("tripinnate", tripinnate),
    ("palmate", palmate),
    ("trifoliolate", trifoliolate),
    ("unifoliolate", unifoliolate),
    ("bifoliolate", |pen| {
        rachis(pen, -4.0, Look::Line);
        small(pen, [0.0, -4.0], (48.0, 1.9), Look::Paper);
        small(pen, [0.0, -4.0], (-48.0, 1.9), Look::Paper);
    }),
    ("bijugate", |pen| {
        rachis(pen, 14.0, Look::Line);
        for foot in [-18.0, 14.0] {
            small(pen, [0.0, foot], (58.0, 1.5), Look::Paper);
            small(pen, [0.0, foot], (-58.0, 1.5), Look::Paper);
        }
    }),
    ("biternate", biternate),
    ("pedate", pedate),
    ("leaflet", |pen| {
        pinnate(pen, 4, [Look::FaintPaper, Look::FaintPaper]);
        tip(pen, Look::FaintPaper);
        small(pen, [0.0, -8.0], (-62.0, 1.25), Look::Ink);
    }),
    ("rachis", |pen| {
        pinnate(pen, 4, [Look::FaintPaper, Look::FaintPaper]);
        tip(pen, Look::FaintPaper);
        pen.line(&[[0.0, -27.0], [0.0, 22.0]], Look::Bold);
    }),
    ("pinna", |pen| bipinnate(pen, [Look::Faint, Look::Faint, Look::Ink])),
    ("pinnule", |pen| {
        bipinnate(pen, [Look::Faint; 3]);
        small(pen, [26.0, -4.6], (-20.0, 0.75), Look::Ink);
    }),
];

/// Draws the common stalk.
fn rachis(pen: &mut Pen, top: f32, look: Look) {
    pen.line(&[[0.0, -50.0], [0.0, top]], look);
}

/// Draws the bud in the axil that tells a leaf from a leaflet.
fn bud(pen: &mut Pen) {
    pen.line(&[[-16.0, -51.0], [16.0, -51.0]], Look::Bold);
    pen.circle([5.0, -46.0], 2.6, Look::Ink);
}

/// Draws pairs of leaflets, the uppermost in another look.
fn pinnate(pen: &mut Pen, pairs: u8, [lower, upper]: [Look; 2]) {
    let foot = |pair: u8| -27.0 + 49.0 / f32::from(pairs - 1) * f32::from(pair);
    rachis(pen, foot(pairs - 1), lower.line());
    for pair in 0..pairs {
        let last = pair + 1 == pairs;
        let (lean, look) = if last && pairs == 5 { (38.0, upper) } else { (62.0, lower) };
        small(pen, [0.0, foot(pair)], (lean, 1.25), look);
        small(pen, [0.0, foot(pair)], (-lean, 1.25), look);
    }
}

/// Draws the leaflet at the end.
fn tip(pen: &mut Pen, look: Look) {
    small(pen, [0.0, 20.0], (0.0, 1.1), look);
}

fn interrupted(pen: &mut Pen) {
    rachis(pen, 20.0, Look::Line);
    for (foot, size) in [(-32.0, 0.45), (-20.0, 1.2), (-8.0, 0.45), (4.0, 1.25), (14.0, 0.45)] {
        small(pen, [0.0, foot], (64.0, size), Look::Paper);
        small(pen, [0.0, foot], (-64.0, size), Look::Paper);
    }
    small(pen, [0.0, 20.0], (0.0, 1.1), Look::Paper);
}

/// Draws a leaf twice pinnate: the common stalk, the pinnae, and one of them in another look.
fn bipinnate(pen: &mut Pen, [stalk, others, one]: [Look; 3]) {
    rachis(pen, 24.0, stalk);
    for (foot, reach) in [(-26.0, 42.0), (-2.0, 38.0), (20.0, 28.0)] {
        for side in [-1.0, 1.0] {
            let look = if side > 0.0 && foot < -25.0 { one } else { others };
            pinna(pen, [[0.0, foot], [side * reach, foot + reach * 0.36]], look);
        }
    }
    pinna(pen, [[0.0, 20.0], [0.0, 48.0]], others);
}

/// Draws leaflets along a line.
fn pinna(pen: &mut Pen, line: [At; 2], look: Look) {
    pen.line(&line, look);
    let lean = (line[1][1] - line[0][1]).atan2(line[1][0] - line[0][0]).to_degrees() - 90.0;
    for share in [0.3, 0.58, 0.86] {
        let (at, _) = curve::along(&line, share);
        small(pen, at, (lean + 62.0, 0.42), look);
        small(pen, at, (lean - 62.0, 0.42), look);
    }
}

fn tripinnate(pen: &mut Pen) {
    rachis(pen, 46.0, Look::Line);
    for (foot, reach) in [(-30.0, 46.0), (-6.0, 38.0), (16.0, 25.0), (32.0, 13.0)] {
        for side in [-1.0, 1.0] {
            let line = [[0.0, foot], [side * reach, foot + reach * 0.3]];
            pen.line(&line, Look::Line);
            for share in [0.25, 0.5, 0.75] {
                let (at, _) = curve::along(&line, share);
                let long = reach * 0.26 * (1.2 - share * 0.5);
                for up in [-1.0, 1.0] {
                    let end = [at[0] + side * long * 0.5, at[1] + up * long];
                    pen.line(&[at, end], Look::Line);
                    let knee = curve::along(&[at, end], 0.6).0;
                    pen.line(
                        &[[knee[0] - 2.6, knee[1] + up * 2.4], knee, [knee[0] + 2.6, knee[1] + up * 0.6]],
                        Look::Line,
                    );
                }
            }
        }
    }
}

fn palmate(pen: &mut Pen) {
    rachis(pen, -14.0, Look::Line);
    for (lean, size) in
        [(104.0, 1.2), (66.0, 1.7), (32.0, 2.0), (0.0, 2.2), (-32.0, 2.0), (-66.0, 1.7), (-104.0, 1.2)]
    {
        pen.at([0.0, -14.0], (lean, size), |pen| {
            pen.twin(
                &curve::smooth(&[[0.0, 0.0], [2.2, 7.0], [4.2, 16.0], [2.8, 23.0], [0.0, 27.0]]),
                Look::Paper,
            );
        });
    }
}

fn trifoliolate(pen: &mut Pen) {
    rachis(pen, -8.0, Look::Line);
    for lean in [78.0, -78.0] {
        small(pen, [0.0, -10.0], (lean, 1.6), Look::Paper);
    }
    pen.line(&[[0.0, -10.0], [0.0, 2.0]], Look::Line);
    small(pen, [0.0, 2.0], (0.0, 1.7), Look::Paper);
}

fn unifoliolate(pen: &mut Pen) {
    rachis(pen, -18.0, Look::Line);
    pen.twin(&curve::smooth(&[[0.0, -20.0], [6.0, -26.0], [5.0, -36.0], [1.5, -46.0]]), Look::Grey);
    pen.line(&[[-10.0, -19.0], [10.0, -19.0]], Look::Bold);
    small(pen, [0.0, -17.0], (0.0, 2.45), Look::Paper);
    pen.line(&[[0.0, -17.0], [0.0, 38.0]], Look::Faint);
}

fn biternate(pen: &mut Pen) {
    rachis(pen, 0.0, Look::Line);
    for (end, lean) in [([-24.0, -6.0], 66.0), ([0.0, 14.0], 0.0), ([24.0, -6.0], -66.0)] {
        pen.line(&[[0.0, -18.0], end], Look::Line);
        for turn in [62.0, 0.0, -62.0] {
            small(pen, end, (lean + turn, 0.85), Look::Paper);
        }
    }
}

fn pedate(pen: &mut Pen) {
    rachis(pen, -16.0, Look::Line);
    small(pen, [0.0, -16.0], (0.0, 2.2), Look::Paper);
    for side in [-1.0, 1.0] {
        pen.smooth(&[[0.0, -16.0], [side * 16.0, -12.0], [side * 30.0, -20.0]], Look::Bold);
        for (at, lean, size) in
            [([12.0, -13.0], 30.0, 1.8), ([22.0, -14.0], 66.0, 1.0), ([30.0, -20.0], 116.0, 0.85)]
        {
            small(pen, [side * at[0], at[1]], (-side * lean, size), Look::Paper);
        }
    }
}
