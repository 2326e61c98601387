//! What is below the ground, and how it spreads. A broken line is the ground.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::leaf::shape::small;
use crate::sketch::pen::{Look, Pen};

/// Terms for what is below the ground.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("taproot", |pen| {
        ground(pen, 20.0);
        shoot(pen, [0.0, 20.0], 1.0);
        root(pen, &[[7.0, 20.0], [6.0, 0.0], [3.0, -26.0], [0.0, -50.0]]);
        for (y, side) in [(4.0, -1.0), (-6.0, 1.0), (-18.0, -1.0), (-28.0, 1.0)] {
            pen.smooth(&[[0.0, y], [side * 14.0, y - 6.0], [side * 24.0, y - 15.0]], Look::Line);
        }
    }),
    ("fibrous", fibrous),
    ("fusiform", |pen| {
        swollen(pen, &[[4.0, 20.0], [10.0, 8.0], [15.0, -10.0], [8.0, -30.0], [1.5, -42.0], [0.0, -50.0]]);
    }),
    ("napiform", |pen| {
        swollen(
            pen,
            &[
                [8.0, 20.0],
                [26.0, 12.0],
                [31.0, -4.0],
                [20.0, -22.0],
                [4.0, -32.0],
                [1.0, -40.0],
                [0.0, -50.0],
            ],
        );
    }),
    ("moniliform", moniliform),
    ("tuberous root", tuberous),
    ("rhizome", rhizome),
    ("stolon", stolon),
    ("tuber", tuber),
    ("corm", corm),
    ("bulb", bulb),
    ("sucker", sucker),
    ("prop root", prop),
    ("nodule", nodule),
];

fn ground(pen: &mut Pen, height: f32) {
    pen.line(&[[-50.0, height], [50.0, height]], Look::Faint);
}

/// Draws a small leafy shoot.
fn shoot(pen: &mut Pen, foot: At, size: f32) {
    pen.at(foot, (0.0, size), |pen| {
        pen.line(&[[0.0, 0.0], [0.0, 12.0]], Look::Line);
        for lean in [50.0, -50.0] {
            small(pen, [0.0, 4.0], (lean, 0.8), Look::Paper);
        }
        small(pen, [0.0, 8.0], (0.0, 0.75), Look::Paper);
    });
}

fn root(pen: &mut Pen, right: &[At]) {
    pen.twin(&curve::smooth(right), Look::BoldPaper);
}

fn swollen(pen: &mut Pen, right: &[At]) {
    ground(pen, 20.0);
    shoot(pen, [0.0, 20.0], 1.0);
    root(pen, right);
    let widest = right.iter().fold([0.0, 0.0], |best, at| if at[0] > best[0] { *at } else { best });
    for (side, up) in [(-1.0, 4.0), (1.0, -3.0)] {
        pen.line(
            &[[side * (widest[0] - 6.0), widest[1] + up], [side * widest[0] * 0.2, widest[1] + up]],
            Look::Faint,
        );
    }
}

/// Draws thin roots from one place.
fn roots(pen: &mut Pen, foot: At, long: f32) {
    for x in [-1.0, -0.55, -0.15, 0.2, 0.6, 1.0_f32] {
        let end = [foot[0] + x * long * 0.9, foot[1] - long * (1.1 - x.abs() * 0.45)];
        pen.smooth(&[foot, [foot[0] + x * long * 0.45, foot[1] - long * 0.35], end], Look::Line);
    }
}

fn fibrous(pen: &mut Pen) {
    ground(pen, 20.0);
    shoot(pen, [0.0, 20.0], 1.0);
    for x in [-46.0, -33.0, -21.0, -10.0, 2.0, 13.0, 24.0, 35.0, 47.0_f32] {
        let end = [x, -46.0 + x.abs() * 0.65];
        pen.smooth(&[[x * 0.08, 20.0], [x * 0.4, 2.0], [x * 0.9, end[1] + 14.0], end], Look::Line);
    }
}

fn moniliform(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, 50.0]], Look::Line);
    for step in 0..5_u8 {
        pen.oval([0.0, 38.0 - 19.0 * f32::from(step)], [9.0, 8.0], Look::BoldPaper);
    }
}

fn tuberous(pen: &mut Pen) {
    ground(pen, 20.0);
    shoot(pen, [0.0, 20.0], 1.0);
    for (lean, long) in [(0.0, 1.0), (38.0, 0.95), (-38.0, 0.95), (68.0, 0.7), (-68.0, 0.7)] {
        pen.at([0.0, 20.0], (lean, long), |pen| {
            pen.twin(
                &curve::smooth(&[
                    [1.5, 0.0],
                    [4.0, -14.0],
                    [10.0, -30.0],
                    [8.0, -46.0],
                    [1.5, -56.0],
                    [0.0, -68.0],
                ]),
                Look::Paper,
            );
        });
    }
}

fn rhizome(pen: &mut Pen) {
    ground(pen, 8.0);
    let top = curve::smooth(&[[-48.0, -12.0], [-20.0, -8.0], [20.0, -10.0], [38.0, -4.0], [46.0, 6.0]]);
    let under = curve::smooth(&[[46.0, 6.0], [42.0, -14.0], [20.0, -22.0], [-20.0, -20.0], [-48.0, -22.0]]);
    pen.figure(&[top, under].concat(), Look::BoldPaper);
    for x in [-36.0, -22.0, -8.0, 6.0, 20.0_f32] {
        pen.line(&[[x, -20.0], [x, -9.0]], Look::Line);
        pen.smooth(&[[x, -20.0], [x - 2.0, -32.0], [x + 3.0, -44.0]], Look::Line);
    }
    for x in [-29.0, 0.0] {
        pen.line(&[[x, -9.0], [x, 8.0]], Look::Line);
        shoot(pen, [x, 8.0], 1.0);
    }
    shoot(pen, [42.0, 4.0], 0.55);
}

fn stolon(pen: &mut Pen) {
    ground(pen, -14.0);
    shoot(pen, [-28.0, -14.0], 1.2);
    roots(pen, [-28.0, -14.0], 24.0);
    pen.smooth(&[[-28.0, -12.0], [-14.0, 4.0], [10.0, 2.0], [34.0, -14.0]], Look::Bold);
    shoot(pen, [34.0, -14.0], 0.8);
    roots(pen, [34.0, -14.0], 16.0);
}

fn tuber(pen: &mut Pen) {
    ground(pen, 22.0);
    shoot(pen, [0.0, 22.0], 0.9);
    pen.line(&[[0.0, 22.0], [0.0, 2.0]], Look::Line);
    for (side, y) in [(-1.0, -18.0), (1.0, -26.0)] {
        pen.smooth(&[[0.0, 8.0], [side * 14.0, 4.0], [side * 22.0, y + 12.0]], Look::Line);
        let lump: Vec<At> =
            [[10.0, 4.0], [24.0, 15.0], [42.0, 10.0], [47.0, -6.0], [36.0, -19.0], [16.0, -17.0]]
                .iter()
                .map(|[x, up]| [side * x, y + up])
                .collect();
        pen.blob(&lump, Look::BoldPaper);
        for (x, up) in [(18.0, -4.0), (29.0, 7.0), (38.0, -8.0)] {
            pen.line(&[[side * x - 3.0, y + up], [side * x + 3.0, y + up + 2.0]], Look::Line);
        }
    }
}

fn corm(pen: &mut Pen) {
    ground(pen, 20.0);
    shoot(pen, [0.0, 20.0], 1.0);
    pen.line(&[[0.0, 20.0], [0.0, 4.0]], Look::Bold);
    pen.blob(
        &[
            [-32.0, -16.0],
            [-24.0, 0.0],
            [0.0, 5.0],
            [24.0, 0.0],
            [32.0, -16.0],
            [18.0, -28.0],
            [-18.0, -28.0],
        ],
        Look::BoldGrey,
    );
    for (y, half) in [(-6.0, 28.0), (-16.0, 31.0)] {
        pen.smooth(&[[-half, y], [0.0, y - 4.0], [half, y]], Look::Line);
    }
    for x in [-16.0, -6.0, 6.0, 16.0_f32] {
        pen.line(&[[x, -28.0], [x * 1.4, -48.0]], Look::Line);
    }
}

fn bulb(pen: &mut Pen) {
    let outer = [[6.0, -32.0], [26.0, -26.0], [33.0, -8.0], [22.0, 14.0], [6.0, 28.0], [4.0, 48.0]];
    pen.twin(&curve::smooth(&outer), Look::BoldPaper);
    for share in [0.7, 0.4] {
        let scale: Vec<At> = outer[..5].iter().map(|[x, y]| [x * share, *y]).collect();
        pen.both(&scale, Look::Line);
    }
    pen.figure(&[[-11.0, -34.0], [11.0, -34.0], [7.0, -27.0], [-7.0, -27.0]], Look::Ink);
    for x in [-14.0, -7.0, 0.0, 7.0, 14.0_f32] {
        pen.line(&[[x * 0.6, -34.0], [x * 1.3, -50.0]], Look::Line);
    }
}

fn sucker(pen: &mut Pen) {
    ground(pen, -8.0);
    pen.line(&[[-30.0, -8.0], [-30.0, 22.0]], Look::Bold);
    pen.circle([-30.0, 32.0], 16.0, Look::Grey);
    pen.smooth(&[[-30.0, -8.0], [-20.0, -24.0], [10.0, -28.0], [48.0, -36.0]], Look::Line);
    pen.smooth(&[[-30.0, -8.0], [-38.0, -26.0], [-46.0, -40.0]], Look::Line);
    pen.smooth(&[[-30.0, -8.0], [-22.0, -34.0], [-24.0, -48.0]], Look::Line);
    for x in [4.0, 28.0] {
        pen.line(&[[x, -28.0 - x * 0.1], [x, -6.0]], Look::Bold);
        shoot(pen, [x, -8.0], 0.9);
    }
}

fn prop(pen: &mut Pen) {
    ground(pen, -32.0);
    pen.line(&[[0.0, -10.0], [0.0, 50.0]], Look::Bold);
    for (y, reach) in [(22.0, 42.0), (6.0, 24.0)] {
        for side in [-1.0, 1.0] {
            pen.smooth(&[[0.0, y], [side * reach * 0.6, y - 14.0], [side * reach, -48.0]], Look::Line);
        }
    }
    pen.smooth(&[[0.0, -10.0], [-4.0, -30.0], [-8.0, -48.0]], Look::Line);
    pen.smooth(&[[0.0, -10.0], [4.0, -30.0], [8.0, -48.0]], Look::Line);
}

fn nodule(pen: &mut Pen) {
    for (end, bend) in [([-40.0, -40.0], -10.0), ([-4.0, -50.0], -6.0), ([36.0, -44.0], 12.0)] {
        let line = curve::smooth(&[[0.0, 48.0], [bend, 20.0], [end[0] * 0.7, -16.0], end]);
        pen.line(&line, Look::Line);
        for (share, side) in [(0.4, 4.6), (0.58, -4.6), (0.76, 4.6), (0.92, -4.6)] {
            let (at, way) = curve::along(&line, share);
            pen.circle([at[0] - way[1] * side, at[1] + way[0] * side], 4.4, Look::Ink);
        }
    }
}
