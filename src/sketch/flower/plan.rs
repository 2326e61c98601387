//! Plans of flowers and ovaries: seen from above, or cut across.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::pen::{Look, Pen};

/// Terms that plans and cross sections show.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("regular", |pen| {
        star(pen, 5, [30.0, 12.0]);
        for step in 0..5_u8 {
            let end = around(f32::from(step) * 72.0 + 90.0, 50.0);
            pen.line(&[[-end[0] * 0.8, -end[1] * 0.8], end], Look::Faint);
        }
    }),
    ("bilateral", bilateral),
    ("asymmetric", asymmetric),
    ("trimerous", |pen| merous(pen, 3)),
    ("tetramerous", |pen| merous(pen, 4)),
    ("pentamerous", |pen| merous(pen, 5)),
    ("valvate", |pen| overlapping(pen, [0.0; 5], [0.0; 5])),
    ("contorted", |pen| overlapping(pen, [5.0; 5], [-5.0; 5])),
    ("quincuncial", |pen| overlapping(pen, [5.0, -5.0, 5.0, -5.0, 5.0], [5.0, -5.0, 5.0, -5.0, -5.0])),
    ("axile", axile),
    ("parietal", parietal),
    ("free-central", free_central),
    ("marginal placentation", marginal),
    ("basal placentation", |pen| hanging(pen, -30.0)),
    ("apical placentation", |pen| hanging(pen, 26.0)),
    ("unilocular", |pen| chambers(pen, 1)),
    ("bilocular", |pen| chambers(pen, 2)),
    ("trilocular", |pen| chambers(pen, 3)),
    ("apocarpous", apocarpous),
    ("syncarpous", syncarpous),
];

/// Returns the point at an angle and a distance from the middle.
fn around(degrees: f32, reach: f32) -> At {
    let (sine, cosine) = degrees.to_radians().sin_cos();
    [reach * cosine, reach * sine]
}

/// Draws petals around the middle.
fn star(pen: &mut Pen, count: u8, [middle, half]: [f32; 2]) {
    for step in 0..count {
        pen.at([0.0, 0.0], (360.0 / f32::from(count) * f32::from(step), 1.0), |pen| {
            pen.twin(
                &curve::smooth(&[
                    [0.0, 5.0],
                    [half * 0.7, 16.0],
                    [half, middle],
                    [half * 0.6, 42.0],
                    [0.0, 45.0],
                ]),
                Look::Paper,
            );
        });
    }
    pen.circle([0.0, 0.0], 5.0, Look::Ink);
}

fn bilateral(pen: &mut Pen) {
    for (lean, long) in [(38.0, 1.0), (-38.0, 1.0), (100.0, 0.85), (-100.0, 0.85)] {
        pen.at([0.0, 4.0], (lean, long), |pen| {
            pen.twin(&curve::smooth(&[[0.0, 4.0], [8.0, 16.0], [10.0, 28.0], [0.0, 42.0]]), Look::Paper);
        });
    }
    pen.twin(
        &curve::smooth(&[[0.0, 0.0], [9.0, -12.0], [24.0, -30.0], [16.0, -44.0], [5.0, -46.0], [0.0, -40.0]]),
        Look::Paper,
    );
    pen.circle([0.0, 2.0], 5.0, Look::Ink);
    pen.line(&[[0.0, -51.0], [0.0, 51.0]], Look::Faint);
}

fn asymmetric(pen: &mut Pen) {
    for (lean, long, half) in
        [(12.0, 1.05, 13.0), (80.0, 0.6, 7.0), (150.0, 0.95, 8.0), (215.0, 0.7, 14.0), (300.0, 0.85, 9.0)]
    {
        pen.at([0.0, 0.0], (lean, long), |pen| {
            let tilt = half * 0.5;
            pen.blob(
                &[
                    [0.0, 4.0],
                    [half, 18.0],
                    [half * 0.9 + tilt, 34.0],
                    [tilt, 45.0],
                    [-half * 0.8, 30.0],
                    [-half * 0.5, 14.0],
                ],
                Look::Paper,
            );
        });
    }
    pen.circle([3.0, -2.0], 5.0, Look::Ink);
}

/// Draws a plan with so many parts in each whorl.
fn merous(pen: &mut Pen, count: u8) {
    let part = 360.0 / f32::from(count);
    for step in 0..count {
        let turn = part * f32::from(step);
        pen.at([0.0, 0.0], (turn, 1.0), |pen| {
            pen.arc([0.0, 0.0], [36.0, 36.0], (90.0 - part * 0.36, 90.0 + part * 0.36), Look::Bold);
            pen.oval([0.0, 16.0], [4.5, 3.0], Look::Ink);
        });
        pen.at([0.0, 0.0], (turn + part / 2.0, 1.0), |pen| {
            pen.arc([0.0, 0.0], [48.0, 48.0], (90.0 - part * 0.32, 90.0 + part * 0.32), Look::Line);
        });
    }
    pen.circle([0.0, 0.0], 6.0, Look::Paper);
}

/// Draws five parts in bud, each with its first and second edge so far outside the ring.
fn overlapping(pen: &mut Pen, first: [f32; 5], second: [f32; 5]) {
    for step in 0..5_u8 {
        let (more, less) = (first[usize::from(step)], second[usize::from(step)]);
        let over = if more == 0.0 { 0.0 } else { 13.0 };
        let from = 90.0 + 72.0 * f32::from(step) - 36.0 - over;
        let span = 72.0 + 2.0 * over - if more == 0.0 { 9.0 } else { 0.0 };
        let line: Vec<At> = (0..=12_u8)
            .map(|at| {
                let share = f32::from(at) / 12.0;
                around(from + span * share, 38.0 + more + (less - more) * share)
            })
            .collect();
        pen.line(&line, Look::Bold);
    }
    pen.circle([0.0, 0.0], 3.0, Look::Line);
}

/// Draws the wall of an ovary cut across.
fn wall(pen: &mut Pen) {
    pen.circle([0.0, 0.0], 46.0, Look::Bold);
}

fn axile(pen: &mut Pen) {
    wall(pen);
    for turn in [90.0, 210.0, 330.0] {
        pen.line(&[[0.0, 0.0], around(turn, 46.0)], Look::Bold);
        for lean in [-26.0, 26.0] {
            let seed = around(turn + 60.0 + lean, 25.0);
            pen.line(&[around(turn + 60.0, 5.0), seed], Look::Line);
            pen.circle(seed, 6.0, Look::Ink);
        }
    }
}

fn parietal(pen: &mut Pen) {
    wall(pen);
    for turn in [90.0, 210.0, 330.0] {
        pen.line(&[around(turn, 45.0), around(turn, 36.0)], Look::Bold);
        for lean in [-15.0, 15.0] {
            pen.line(&[around(turn, 37.0), around(turn + lean, 30.0)], Look::Line);
            pen.circle(around(turn + lean, 28.0), 6.0, Look::Ink);
        }
    }
}

fn free_central(pen: &mut Pen) {
    wall(pen);
    pen.circle([0.0, 0.0], 11.0, Look::Grey);
    for step in 0..6_u8 {
        let turn = 60.0 * f32::from(step) + 30.0;
        pen.line(&[around(turn, 11.0), around(turn, 18.0)], Look::Line);
        pen.circle(around(turn, 22.0), 6.0, Look::Ink);
    }
}

fn marginal(pen: &mut Pen) {
    pen.twin(
        &curve::smooth(&[[0.0, -44.0], [18.0, -38.0], [29.0, -12.0], [22.0, 20.0], [7.0, 36.0], [0.0, 46.0]]),
        Look::Bold,
    );
    pen.line(&[[0.0, 46.0], [0.0, 34.0]], Look::Bold);
    for side in [-1.0, 1.0] {
        pen.line(&[[0.0, 34.0], [side * 7.0, 16.0]], Look::Line);
        pen.oval([side * 8.0, 10.0], [6.5, 8.0], Look::Ink);
    }
}

/// Draws an ovary cut lengthwise with one ovule on its floor or under its roof.
fn hanging(pen: &mut Pen, from: f32) {
    let side =
        [[0.0, -40.0], [20.0, -36.0], [29.0, -12.0], [20.0, 16.0], [5.0, 30.0], [4.0, 46.0], [7.0, 50.0]];
    pen.twin(&curve::smooth(&side), Look::Bold);
    let middle = if from < 0.0 { -14.0 } else { -4.0 };
    pen.line(&[[0.0, if from < 0.0 { -38.0 } else { 30.0 }], [0.0, middle]], Look::Bold);
    pen.oval([0.0, middle], [9.0, 13.0], Look::Ink);
}

/// Draws an ovary cut across with so many chambers.
fn chambers(pen: &mut Pen, count: u8) {
    pen.circle([0.0, 0.0], 46.0, Look::BoldGrey);
    let part = 360.0 / f32::from(count);
    for step in 0..count {
        let turn = 90.0 + part * f32::from(step);
        if count == 1 {
            pen.circle([0.0, 0.0], 36.0, Look::Paper);
            continue;
        }
        let mut ring = vec![around(turn, 6.0)];
        ring.extend(curve::arc([0.0, 0.0], [37.0, 37.0], (turn - part / 2.0 + 9.0, turn + part / 2.0 - 9.0)));
        pen.figure(&ring, Look::Paper);
    }
}

fn apocarpous(pen: &mut Pen) {
    pen.smooth(&[[-34.0, -38.0], [0.0, -30.0], [34.0, -38.0]], Look::Line);
    for (x, lean) in [(-18.0, 16.0), (18.0, -16.0), (0.0, 0.0)] {
        pen.at([x, -34.0], (lean, 1.0), |pen| {
            pen.twin(
                &curve::smooth(&[
                    [4.0, 0.0],
                    [13.0, 14.0],
                    [12.0, 34.0],
                    [4.0, 52.0],
                    [2.0, 64.0],
                    [4.0, 70.0],
                    [0.0, 72.0],
                ]),
                Look::BoldPaper,
            );
        });
    }
}

fn syncarpous(pen: &mut Pen) {
    pen.smooth(&[[-34.0, -40.0], [0.0, -36.0], [34.0, -40.0]], Look::Line);
    let side = [[10.0, -36.0], [28.0, -24.0], [30.0, -2.0], [16.0, 14.0], [5.0, 22.0], [4.0, 36.0]];
    pen.twin(&curve::smooth(&side), Look::BoldPaper);
    pen.line(&[[-9.0, -34.0], [-9.0, 10.0]], Look::Line);
    pen.line(&[[9.0, -34.0], [9.0, 10.0]], Look::Line);
    for x in [-13.0, 0.0, 13.0_f32] {
        pen.line(&[[0.0, 34.0], [x, 48.0 - x.abs() * 0.2]], Look::Bold);
    }
}
