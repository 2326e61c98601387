//! Forms and pictures that a content stream invokes: a form is read in its place, of a picture only the place is kept.

use lopdf::{Dictionary, Document, Object, ObjectId, Stream};

use crate::pdf::Area;
use crate::pdf::content::{MAX_DEPTH, MAX_OPERATORS, Reader, Resources};
use crate::pdf::lexer::{Lexer, Operand};
use crate::pdf::matrix::Matrix;
use crate::pdf::objects::{array, dictionary, four, name, named, number_of, resolve};

impl Reader<'_> {
    /// Reads a form where the operator names one.
    pub(super) fn invoke(&mut self, lexer: &Lexer, resources: Resources) {
        let file = self.shared.file;
        let Some(Operand::Name(key)) = lexer.operands.first() else { return };
        let Some(object) =
            resources.and_then(|dict| dictionary(file, dict, b"XObject")).and_then(|list| named(list, key))
        else {
            return;
        };
        let Object::Stream(form) = resolve(file, object) else {
            self.missing.forms += 1;
            return;
        };
        let id = object.as_reference().unwrap_or_default();
        let hidden = form.dict.get(b"OC").is_ok_and(|layer| self.shared.layers.hide(file, layer));
        let kind = name(file, &form.dict, b"Subtype");
        if kind.as_deref() == Some("Image") && !hidden {
            let (from, to) = (self.state.ctm.at(0.0, 0.0), self.state.ctm.at(1.0, 1.0));
            self.canvas.add_box(from, to);
            self.canvas.add_ground(Area::between(from, to));
        }
        let is_form = kind.as_deref() == Some("Form");
        if !is_form || hidden || self.forms.contains(&id) || self.forms.len() >= MAX_DEPTH {
            return;
        }
        self.enter(form, id, resources);
    }

    /// Reads a form's content where the state says, in a state of its own.
    pub(super) fn enter(&mut self, form: &Stream, id: ObjectId, resources: Resources) {
        let file = self.shared.file;
        let mut content = Vec::new();
        match self.shared.unpack(form, &mut content) {
            Some(true) => {}
            Some(false) => self.missing.forms += 1,
            None => {
                self.operators = MAX_OPERATORS;
                return;
            }
        }
        let (state, saved, marks) = (self.state.clone(), std::mem::take(&mut self.saved), self.marks.len());
        self.state.ctm = matrix(file, &form.dict).then(self.state.ctm);
        if let Some(bounds) = bounds(file, &form.dict, self.state.ctm) {
            self.clip(bounds);
        }
        self.forms.push(id);
        self.run(&content, dictionary(file, &form.dict, b"Resources").or(resources));
        self.forms.pop();
        self.marks.truncate(marks);
        (self.state, self.saved) = (state, saved);
    }
}

/// Returns the map from a form's coordinates to those it is painted in.
pub(super) fn matrix(file: &Document, form: &Dictionary) -> Matrix {
    let numbers = array(file, form, b"Matrix").unwrap_or_default();
    let numbers: Vec<f32> = numbers.iter().filter_map(|number| number_of(file, number)).collect();
    <[f32; 6]>::try_from(numbers).map_or(Matrix::IDENTITY, Matrix::of)
}

/// Returns the upright area around a form's box as a map leads it.
pub(super) fn bounds(file: &Document, form: &Dictionary, map: Matrix) -> Option<Area> {
    let [left, bottom, right, top] = four(file, form, b"BBox")?;
    let one = Area::between(map.at(left, bottom), map.at(right, top));
    Some(one.with(Area::between(map.at(left, top), map.at(right, bottom))))
}
