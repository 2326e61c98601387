//! Fruits, from outside or cut, and how capsules open. Seeds are ink.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::pen::{Look, Pen};

/// Terms for fruits.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("berry", berry),
    ("drupe", drupe),
    ("pome", pome),
    ("hip", hip),
    ("aggregate fruit", aggregate),
    ("acorn", |pen| acorn(pen, [Look::Paper, Look::Grey])),
    ("cupule", |pen| acorn(pen, [Look::FaintPaper, Look::BoldGrey])),
    ("samara", samara),
    ("schizocarp", schizocarp),
    ("cypsela", |pen| cypsela(pen, [Look::Line, Look::Grey])),
    ("pappus", |pen| cypsela(pen, [Look::Bold, Look::FaintPaper])),
    ("follicle", follicle),
    ("legume", legume),
    ("loment", loment),
    ("silique", |pen| silique(pen, [12.0, 42.0])),
    ("silicle", |pen| silique(pen, [27.0, 27.0])),
    ("loculicidal", |pen| splitting(pen, Slits::Backs)),
    ("septicidal", |pen| splitting(pen, Slits::Walls)),
    ("circumscissile", circumscissile),
    ("poricidal", poricidal),
    ("cone", cone),
    ("syconium", syconium),
    ("beaked", beaked),
];

/// Where a capsule splits.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Slits {
    /// Along the back of each chamber.
    Backs,
    /// Along the walls between chambers.
    Walls,
}

fn berry(pen: &mut Pen) {
    pen.line(&[[0.0, 38.0], [0.0, 50.0]], Look::Bold);
    pen.circle([0.0, -2.0], 40.0, Look::BoldPaper);
    for (x, y, lean) in [
        (-13.0, 10.0, 30.0),
        (13.0, 10.0, -30.0),
        (-18.0, -10.0, 80.0),
        (18.0, -10.0, -80.0),
        (0.0, -20.0, 0.0),
    ] {
        pen.at([x, y], (lean, 1.0), |pen| pen.oval([0.0, 0.0], [4.5, 8.0], Look::Ink));
    }
}

fn drupe(pen: &mut Pen) {
    pen.line(&[[0.0, 40.0], [0.0, 50.0]], Look::Bold);
    pen.circle([0.0, -2.0], 42.0, Look::BoldPaper);
    pen.oval([0.0, -4.0], [18.0, 24.0], Look::BoldGrey);
    pen.oval([0.0, -4.0], [8.0, 14.0], Look::Ink);
}

fn pome(pen: &mut Pen) {
    pen.smooth(&[[0.0, 24.0], [1.0, 38.0], [6.0, 50.0]], Look::Bold);
    let side = [
        [0.0, 24.0],
        [10.0, 32.0],
        [30.0, 32.0],
        [43.0, 12.0],
        [36.0, -22.0],
        [16.0, -42.0],
        [6.0, -40.0],
        [0.0, -34.0],
    ];
    pen.twin(&curve::smooth(&side), Look::BoldPaper);
    for x in [-5.0, 0.0, 5.0_f32] {
        pen.line(&[[x * 0.5, -36.0], [x, -46.0]], Look::Line);
    }
    pen.twin(
        &curve::smooth(&[[0.0, 14.0], [16.0, 8.0], [20.0, -6.0], [10.0, -20.0], [0.0, -24.0]]),
        Look::Line,
    );
    for side in [-1.0, 1.0] {
        pen.at([side * 8.0, -5.0], (side * 10.0, 1.0), |pen| pen.oval([0.0, 0.0], [4.5, 10.0], Look::Ink));
    }
}

fn hip(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, -36.0]], Look::Bold);
    let side = [[0.0, -38.0], [18.0, -32.0], [28.0, -8.0], [22.0, 14.0], [8.0, 24.0], [6.0, 26.0]];
    pen.twin(&curve::smooth(&side), Look::BoldPaper);
    for x in [-28.0, -13.0, 0.0, 13.0, 28.0_f32] {
        pen.smooth(&[[x * 0.2, 26.0], [x * 0.5, 36.0], [x, 48.0 - x.abs() * 0.35]], Look::Line);
    }
    for (x, y) in [(-10.0, -4.0), (10.0, -4.0), (0.0, 6.0), (-7.0, -18.0), (7.0, -18.0), (0.0, -10.0)] {
        pen.oval([x, y], [3.2, 4.6], Look::Ink);
    }
}

fn aggregate(pen: &mut Pen) {
    pen.line(&[[0.0, 30.0], [0.0, 50.0]], Look::Bold);
    for side in [-1.0, 1.0] {
        pen.smooth(&[[0.0, 34.0], [side * 16.0, 40.0], [side * 30.0, 32.0]], Look::Line);
    }
    for (y, count) in [(24.0, 3_u8), (11.0, 4), (-3.0, 5), (-17.0, 4), (-30.0, 3), (-42.0, 1)] {
        for step in 0..count {
            let x = (f32::from(step) - f32::from(count - 1) / 2.0) * 16.0;
            pen.circle([x, y], 8.6, Look::Paper);
            pen.line(&[[x, y - 1.0], [x + 1.0, y - 5.0]], Look::Line);
        }
    }
}

fn acorn(pen: &mut Pen, [nut, cup]: [Look; 2]) {
    pen.twin(
        &curve::smooth(&[[0.0, -46.0], [4.0, -42.0], [20.0, -32.0], [26.0, -8.0], [24.0, 20.0], [0.0, 22.0]]),
        nut,
    );
    pen.line(&[[0.0, 40.0], [4.0, 50.0]], cup.line());
    pen.twin(
        &curve::smooth(&[[0.0, 2.0], [20.0, 4.0], [33.0, 8.0], [31.0, 26.0], [16.0, 38.0], [0.0, 41.0]]),
        cup,
    );
}

fn samara(pen: &mut Pen) {
    let wing = curve::smooth(&[
        [-8.0, -30.0],
        [-20.0, 0.0],
        [-18.0, 30.0],
        [0.0, 48.0],
        [16.0, 34.0],
        [14.0, 0.0],
        [8.0, -30.0],
    ]);
    pen.figure(&wing, Look::Paper);
    for x in [-8.0, 0.0, 8.0_f32] {
        pen.smooth(&[[x * 0.5, -20.0], [x, 6.0], [x * 1.2, 36.0 - x.abs()]], Look::Faint);
    }
    pen.oval([0.0, -34.0], [11.0, 15.0], Look::Ink);
}

fn schizocarp(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, 22.0]], Look::Line);
    for side in [-1.0, 1.0] {
        pen.line(&[[0.0, 20.0], [side * 18.0, 34.0]], Look::Line);
        let outer: Vec<At> =
            curve::smooth(&[[18.0, 36.0], [36.0, 20.0], [40.0, -10.0], [26.0, -32.0], [19.0, -30.0]])
                .iter()
                .map(|[x, y]| [side * x, *y])
                .collect();
        pen.figure(&outer, Look::BoldPaper);
        for inset in [0.0, 7.0] {
            pen.smooth(
                &[
                    [side * (20.0 + inset * 0.4), 30.0],
                    [side * (24.0 + inset), 2.0],
                    [side * (21.0 + inset * 0.4), -28.0],
                ],
                Look::Line,
            );
        }
    }
}

fn cypsela(pen: &mut Pen, [hairs, fruit]: [Look; 2]) {
    pen.twin(&curve::smooth(&[[2.0, -50.0], [7.0, -38.0], [8.0, -22.0], [3.0, -10.0]]), fruit);
    pen.line(&[[0.0, -10.0], [0.0, -2.0]], fruit.line());
    for lean in [-66.0, -44.0, -22.0, 0.0, 22.0, 44.0, 66.0_f32] {
        let (sine, cosine) = lean.to_radians().sin_cos();
        pen.smooth(
            &[[0.0, -2.0], [22.0 * sine, 4.0 + 24.0 * cosine], [50.0 * sine, 2.0 + 46.0 * cosine]],
            hairs,
        );
    }
}

fn follicle(pen: &mut Pen) {
    pen.line(&[[-10.0, -50.0], [-8.0, -40.0]], Look::Bold);
    let back = curve::smooth(&[[-8.0, -40.0], [-30.0, -20.0], [-32.0, 8.0], [-14.0, 34.0], [4.0, 48.0]]);
    let edge = curve::smooth(&[[4.0, 48.0], [4.0, 24.0], [20.0, 4.0], [16.0, -18.0], [-8.0, -40.0]]);
    pen.figure(&[back, edge].concat(), Look::BoldPaper);
    pen.smooth(&[[4.0, 46.0], [-6.0, 22.0], [-10.0, 0.0], [-10.0, -18.0], [-8.0, -38.0]], Look::Bold);
    for (x, y) in [(0.0, 18.0), (3.0, 5.0), (3.0, -8.0), (-1.0, -21.0)] {
        pen.circle([x, y], 4.6, Look::Ink);
    }
}

fn legume(pen: &mut Pen) {
    pen.smooth(&[[-48.0, 36.0], [-42.0, 32.0], [-38.0, 26.0]], Look::Bold);
    let upper = curve::smooth(&[[-40.0, 28.0], [-22.0, 22.0], [4.0, 4.0], [26.0, -22.0], [48.0, -42.0]]);
    let lower = curve::smooth(&[[48.0, -42.0], [18.0, -38.0], [-10.0, -18.0], [-32.0, 6.0], [-40.0, 28.0]]);
    pen.figure(&[upper, lower].concat(), Look::BoldPaper);
    for (x, y) in [(-26.0, 13.0), (-13.0, 3.0), (0.0, -8.0), (12.0, -19.0), (23.0, -29.0)] {
        pen.circle([x, y], 4.6, Look::Ink);
    }
}

fn loment(pen: &mut Pen) {
    pen.line(&[[0.0, 42.0], [0.0, 50.0]], Look::Bold);
    for (y, x) in [(29.0, 0.0), (3.0, 0.0), (-34.0, 8.0)] {
        pen.oval([x, y], [19.0, 13.0], Look::BoldPaper);
        pen.oval([x, y], [6.0, 4.0], Look::Ink);
    }
}

/// Draws a pod of two valves with the frame between them, of some half breadth and half length.
fn silique(pen: &mut Pen, [wide, long]: [f32; 2]) {
    pen.line(&[[0.0, -50.0], [0.0, -long]], Look::Bold);
    pen.line(&[[0.0, long], [0.0, (long + 10.0).min(51.0)]], Look::Bold);
    let side = if wide > 20.0 {
        vec![[0.0, -long], [wide * 0.8, -long * 0.6], [wide, 0.0], [wide * 0.8, long * 0.6], [0.0, long]]
    } else {
        vec![[0.0, -long], [wide, -long * 0.92], [wide, 0.0], [wide, long * 0.9], [0.0, long]]
    };
    pen.twin(&curve::smooth(&side), Look::Paper);
    pen.line(&[[0.0, -long], [0.0, long]], Look::Bold);
    let seeds = if wide > 20.0 { 3_u8 } else { 6 };
    for step in 0..seeds {
        let y = long * (1.5 * (f32::from(step) + 0.5) / f32::from(seeds) - 0.75);
        for side in [-0.5, 0.5] {
            pen.circle([side * wide, y], if wide > 20.0 { 5.0 } else { 2.6 }, Look::Ink);
        }
    }
}

/// Draws a capsule cut across, its three valves moved apart where it splits.
fn splitting(pen: &mut Pen, slits: Slits) {
    for step in 0..3_u8 {
        let turn = 120.0 * f32::from(step);
        pen.at([0.0, 0.0], (turn, 1.0), |pen| {
            pen.at([0.0, 9.0], (0.0, 1.0), |pen| match slits {
                // A valve with a wall in its middle.
                Slits::Backs => {
                    pen.arc([0.0, -2.0], [37.0, 37.0], (38.0, 142.0), Look::Bold);
                    pen.line(&[[0.0, 35.0], [0.0, 2.0]], Look::Bold);
                    pen.circle([-8.0, 10.0], 4.5, Look::Ink);
                    pen.circle([8.0, 10.0], 4.5, Look::Ink);
                }
                // A valve that is a whole chamber, with half a wall on either side.
                Slits::Walls => {
                    let mut ring = vec![[0.0, 2.0]];
                    ring.extend(curve::arc([0.0, -2.0], [37.0, 37.0], (36.0, 144.0)));
                    pen.figure(&ring, Look::Bold);
                    pen.circle([-6.0, 14.0], 4.5, Look::Ink);
                    pen.circle([6.0, 14.0], 4.5, Look::Ink);
                }
            });
        });
    }
}

fn circumscissile(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, -38.0]], Look::Bold);
    let bowl = curve::arc([0.0, -4.0], [32.0, 35.0], (180.0, 360.0));
    pen.figure(&bowl, Look::BoldPaper);
    for (x, y) in [(-16.0, -8.0), (0.0, -9.0), (16.0, -8.0), (-9.0, -20.0), (9.0, -20.0)] {
        pen.circle([x, y], 5.0, Look::Ink);
    }
    pen.at([5.0, 10.0], (-16.0, 1.0), |pen| {
        pen.figure(&curve::arc([0.0, 0.0], [32.0, 28.0], (0.0, 180.0)), Look::BoldPaper);
        pen.line(&[[0.0, 28.0], [0.0, 36.0]], Look::Bold);
    });
}

fn poricidal(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, -34.0]], Look::Bold);
    let side = [[0.0, -36.0], [14.0, -32.0], [30.0, -6.0], [26.0, 18.0], [20.0, 24.0]];
    pen.twin(&curve::smooth(&side), Look::BoldPaper);
    pen.blob(&[[-30.0, 28.0], [0.0, 38.0], [30.0, 28.0], [0.0, 26.0]], Look::Paper);
    for x in [-16.0, -5.5, 5.5, 16.0_f32] {
        pen.circle([x, 14.0], 3.8, Look::Ink);
    }
    for x in [-19.0, -8.0, 8.0, 19.0_f32] {
        pen.smooth(&[[x * 0.3, -32.0], [x, -8.0], [x, 6.0]], Look::Faint);
    }
}

fn cone(pen: &mut Pen) {
    pen.line(&[[0.0, 40.0], [0.0, 51.0]], Look::Bold);
    for row in 0..7_u8 {
        let y = 30.0 - 11.4 * f32::from(row);
        let half = 32.0 * (1.0 - ((y + 2.0) / 52.0).powi(2)).sqrt();
        let count: u8 = if row % 2 == 0 { 3 } else { 2 };
        for step in 0..count {
            let x = (f32::from(step) - f32::from(count - 1) / 2.0) * half * 0.72;
            pen.at([x, y], (-x * 0.5, 1.0), |pen| {
                pen.figure(
                    &[
                        [0.0, 12.0],
                        [half * 0.38, 2.0],
                        [half * 0.26, -9.0],
                        [0.0, -12.0],
                        [-half * 0.26, -9.0],
                        [-half * 0.38, 2.0],
                    ],
                    Look::Paper,
                );
            });
        }
    }
}

fn syconium(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, -40.0]], Look::Bold);
    let side = [[3.0, -42.0], [18.0, -26.0], [36.0, 4.0], [26.0, 34.0], [4.0, 42.0]];
    pen.twin(&curve::smooth(&side), Look::BoldGrey);
    let hollow = [[0.0, -22.0], [10.0, -16.0], [22.0, 4.0], [15.0, 24.0], [2.0, 32.0], [2.0, 44.0]];
    pen.twin(&curve::smooth(&hollow), Look::Paper);
    for (x, y, lean) in [(9.0, -15.0, 0.9), (18.0, -3.0, 0.4), (20.0, 10.0, 0.0), (14.0, 23.0, -0.5)] {
        for side in [-1.0, 1.0] {
            let end = [side * (x - 7.0), y + lean * 6.0];
            pen.line(&[[side * x, y], end], Look::Line);
            pen.circle(end, 2.8, Look::Ink);
        }
    }
}

fn beaked(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, -40.0]], Look::Faint);
    pen.twin(
        &curve::smooth(&[[0.0, -42.0], [16.0, -34.0], [20.0, -14.0], [9.0, 4.0], [4.0, 10.0]]),
        Look::Faint,
    );
    pen.figure(&[[-5.0, 8.0], [5.0, 8.0], [1.6, 49.0], [-1.6, 49.0]], Look::Ink);
}
