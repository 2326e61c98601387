//! Parts of inflorescences: the whole steps back, and the part is bold.

use crate::sketch::Row;
use crate::sketch::curve;
use crate::sketch::flower::cluster::{RAYS_FROM, compound_umbel, raceme, rays, umbel, umbellet};
use crate::sketch::pen::{Look, Pen};

/// Terms for parts of inflorescences.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("peduncle", |pen| {
        umbel(pen, Look::Faint);
        pen.line(&[[0.0, -50.0], [0.0, -14.0]], Look::Bold);
    }),
    ("pedicel", pedicel),
    ("ray", |pen| {
        compound_umbel(pen, Look::Faint);
        rays().for_each(|(end, _)| pen.line(&[RAYS_FROM, end], Look::Bold));
    }),
    ("umbellet", |pen| {
        compound_umbel(pen, Look::Faint);
        rays()
            .skip(1)
            .take(1)
            .for_each(|(end, lean)| pen.at(end, (lean, 1.0), |pen| umbellet(pen, Look::Bold)));
    }),
    ("involucre", |pen| {
        compound_umbel(pen, Look::Faint);
        pen.at(RAYS_FROM, (0.0, 1.0), |pen| bracts(pen, 30.0));
    }),
    ("involucel", |pen| {
        compound_umbel(pen, Look::Faint);
        rays().for_each(|(end, lean)| pen.at(end, (lean, 1.0), |pen| bracts(pen, 11.0)));
    }),
    ("bract", bract),
];

/// Draws bracts that stand out to both sides and down.
fn bracts(pen: &mut Pen, long: f32) {
    for lean in [20.0_f32, -25.0] {
        let (sine, cosine) = lean.to_radians().sin_cos();
        for side in [-1.0, 1.0] {
            pen.line(&[[0.0, 0.0], [side * long * cosine, -long * sine]], Look::Bold);
        }
    }
}

fn pedicel(pen: &mut Pen) {
    raceme(pen, Look::Faint);
    for step in 0..7_u8 {
        let (side, rise) = (if step % 2 == 0 { -1.0 } else { 1.0 }, f32::from(step));
        let (foot, reach) = (-26.0 + 10.0 * rise, 23.0 - 2.2 * rise);
        pen.line(&[[0.0, foot], [side * (reach - 2.0), foot + (reach - 2.0) * 0.5]], Look::Bold);
    }
}

fn bract(pen: &mut Pen) {
    raceme(pen, Look::Faint);
    for step in 0..5_u8 {
        let (side, foot) = (if step % 2 == 0 { -1.0 } else { 1.0 }, -26.0 + 10.0 * f32::from(step));
        let long = 20.0 - 2.0 * f32::from(step);
        let top = curve::smooth(&[[0.0, foot], [side * long * 0.5, foot + 1.0], [side * long, foot - 7.0]]);
        let under = curve::smooth(&[[side * long, foot - 7.0], [side * long * 0.5, foot - 7.0], [0.0, foot]]);
        pen.figure(&[top, under].concat(), Look::Ink);
    }
}
