//! Hairs, some alone and large, some as a stand on a stem, which tells how they lie.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::pen::{Look, Pen};

/// Terms for hairs.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("glabrous", stem),
    ("stellate", stellate),
    ("glandular", glandular),
    ("uncinate", uncinate),
    ("glochidiate", glochidiate),
    ("plumose", plumose),
    ("barbed", barbed),
    ("dendritic", dendritic),
    ("medifixed", medifixed),
    ("lepidote", lepidote),
    ("papillose", papillose),
    ("hirsute", |pen| stand(pen, &[[0.0, 0.0], [20.0, 5.0]])),
    ("strigose", |pen| stand(pen, &[[0.0, 0.0], [9.0, 4.0], [10.0, 19.0]])),
    ("retrorse", |pen| stand(pen, &[[0.0, 0.0], [15.0, -14.0]])),
    ("antrorse", |pen| stand(pen, &[[0.0, 0.0], [15.0, 14.0]])),
    ("villous", |pen| stand(pen, &[[0.0, 0.0], [9.0, 9.0], [17.0, -3.0], [28.0, 8.0]])),
    ("tomentose", tomentose),
    ("puberulent", puberulent),
    ("bristle", |pen| {
        surface(pen);
        pen.figure(&[[-5.0, -30.0], [5.0, -30.0], [0.0, 48.0]], Look::Ink);
    }),
    ("arachnoid", arachnoid),
];

/// Draws the surface from which a large hair rises.
fn surface(pen: &mut Pen) {
    pen.smooth(&[[-50.0, -38.0], [-16.0, -32.0], [16.0, -32.0], [50.0, -38.0]], Look::Line);
}

/// Draws a stem, seen from the side.
fn stem(pen: &mut Pen) {
    pen.line(&[[-13.0, -50.0], [-13.0, 50.0]], Look::Bold);
    pen.line(&[[13.0, -50.0], [13.0, 50.0]], Look::Bold);
}

/// Draws the same hair many times on both sides of a stem.
fn stand(pen: &mut Pen, hair: &[At]) {
    stem(pen);
    for step in 0..8_u8 {
        let foot = -42.0 + 12.0 * f32::from(step);
        for side in [-1.0, 1.0] {
            let points: Vec<At> =
                hair.iter().map(|[x, y]| [side * (13.0 + x), (foot + y).clamp(-51.0, 51.0)]).collect();
            pen.smooth(&points, Look::Line);
        }
    }
}

fn puberulent(pen: &mut Pen) {
    stem(pen);
    for step in 0..16_u8 {
        let foot = -46.0 + 6.1 * f32::from(step);
        for side in [-1.0, 1.0] {
            pen.line(&[[side * 13.0, foot], [side * 20.0, foot + 2.0]], Look::Line);
        }
    }
}

fn stellate(pen: &mut Pen) {
    surface(pen);
    pen.line(&[[0.0, -32.0], [0.0, 0.0]], Look::Line);
    for step in 0..8_u8 {
        let (sine, cosine) = (45.0 * f32::from(step) + 22.5).to_radians().sin_cos();
        pen.line(&[[0.0, 8.0], [36.0 * cosine, 8.0 + 36.0 * sine]], Look::Bold);
    }
}

fn glandular(pen: &mut Pen) {
    surface(pen);
    for (x, top) in [(-28.0, 4.0), (0.0, 26.0), (28.0, 4.0)] {
        pen.line(&[[x, -33.0], [x, top]], Look::Line);
        pen.circle([x, top + 8.0], 9.0, Look::Ink);
    }
}

fn uncinate(pen: &mut Pen) {
    surface(pen);
    pen.smooth(
        &[[-6.0, -32.0], [-7.0, 0.0], [-5.0, 26.0], [4.0, 42.0], [16.0, 42.0], [21.0, 30.0], [14.0, 22.0]],
        Look::Bold,
    );
}

fn glochidiate(pen: &mut Pen) {
    surface(pen);
    pen.line(&[[0.0, -32.0], [0.0, 44.0]], Look::Bold);
    for side in [-1.0, 1.0] {
        pen.line(&[[0.0, 46.0], [side * 20.0, 26.0]], Look::Bold);
        pen.line(&[[0.0, 46.0], [side * 8.0, 22.0]], Look::Line);
    }
}

fn plumose(pen: &mut Pen) {
    let reach = 26.0;
    pen.line(&[[0.0, -50.0], [0.0, 46.0]], Look::Line);
    for step in 0..11_u8 {
        let foot = -38.0 + 7.0 * f32::from(step);
        pen.both(&[[0.0, foot], [reach * 0.6, foot + 6.0], [reach, foot + 14.0]], Look::Line);
    }
}

fn barbed(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, 48.0]], Look::Bold);
    for step in 0..6_u8 {
        let foot = -30.0 + 15.0 * f32::from(step);
        pen.both(&[[0.0, foot], [13.0, foot - 11.0]], Look::Line);
    }
}

fn dendritic(pen: &mut Pen) {
    surface(pen);
    pen.line(&[[0.0, -32.0], [0.0, 44.0]], Look::Bold);
    for (foot, reach) in [(-14.0, 34.0), (6.0, 26.0), (24.0, 16.0)] {
        for side in [-1.0, 1.0] {
            let end = [side * reach, foot + reach * 0.6];
            pen.line(&[[0.0, foot], end], Look::Line);
            let knee = curve::along(&[[0.0, foot], end], 0.5).0;
            pen.line(&[knee, [knee[0] + side * 3.0, knee[1] + reach * 0.42]], Look::Line);
            pen.line(&[knee, [knee[0] + side * reach * 0.5, knee[1] - 1.0]], Look::Line);
        }
    }
}

fn medifixed(pen: &mut Pen) {
    surface(pen);
    pen.line(&[[0.0, -32.0], [0.0, -4.0]], Look::Bold);
    pen.blob(&[[-48.0, 4.0], [0.0, -5.0], [48.0, 4.0], [0.0, 4.0]], Look::Ink);
}

fn lepidote(pen: &mut Pen) {
    for (x, y) in [(-26.0, 26.0), (26.0, 26.0), (0.0, -2.0), (-28.0, -28.0), (28.0, -28.0)] {
        let rim: Vec<At> = (0..32_u8)
            .map(|step| {
                let turn = f32::from(step) / 32.0 * std::f32::consts::TAU;
                let reach = if step % 2 == 0 { 20.0 } else { 16.5 };
                [x + reach * turn.cos(), y + reach * turn.sin()]
            })
            .collect();
        pen.figure(&rim, Look::Grey);
        pen.circle([x, y], 3.2, Look::Ink);
    }
}

fn papillose(pen: &mut Pen) {
    let mut line = vec![[-50.0, -20.0]];
    for step in 0..5_u8 {
        let middle = -40.0 + 20.0 * f32::from(step);
        line.extend(curve::arc([middle, -20.0], [8.0, 24.0], (180.0, 0.0)));
    }
    line.push([50.0, -20.0]);
    pen.line(&line, Look::Bold);
    pen.line(&[[-50.0, -38.0], [50.0, -38.0]], Look::Faint);
}

fn tomentose(pen: &mut Pen) {
    stem(pen);
    for side in [-1.0, 1.0] {
        for (start, wave) in [(15.0, 3.0), (21.0, -4.0), (27.0, 4.0), (33.0, -3.0)] {
            let wool: Vec<At> = (0..=60_u8)
                .map(|step| {
                    let y = -49.0 + 98.0 * f32::from(step) / 60.0;
                    [
                        side * (start + 3.0 + wave * (y * 0.42).sin()),
                        y + 3.0 * (y * 0.42).cos() * wave.signum() * 0.6,
                    ]
                })
                .collect();
            pen.line(&wool, Look::Line);
        }
    }
}

fn arachnoid(pen: &mut Pen) {
    stem(pen);
    for (from, to) in [
        ([-13.0, -44.0], [13.0, -20.0]),
        ([13.0, -36.0], [-13.0, -8.0]),
        ([-13.0, -16.0], [13.0, 10.0]),
        ([13.0, 0.0], [-13.0, 26.0]),
        ([-13.0, 20.0], [13.0, 44.0]),
    ] {
        let middle = [f32::midpoint(from[0], to[0]), f32::midpoint(from[1], to[1])];
        pen.smooth(
            &[[from[0] * 3.2, from[1] + 6.0], from, middle, to, [to[0] * 3.2, to[1] - 6.0]],
            Look::Line,
        );
    }
}
