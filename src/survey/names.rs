//! Names of unknowns as numbers.

use std::collections::HashMap;

use crate::job::Job;
use crate::job::form::{Form, Linear};
use crate::solve::least_squares::{self, Terms};

/// The dimensions of the job, and what readings bring along: the size of a
/// counted unit, the zero of a pull.
#[derive(Clone, Debug)]
pub(super) struct Names {
    all: Vec<String>,
    index: HashMap<String, usize>,
}

impl Names {
    pub(super) fn new(job: &Job) -> Self {
        let mut names = Self { all: Vec::new(), index: HashMap::new() };
        for dimension in &job.dimensions {
            names.own(&dimension.name);
        }
        names
    }

    /// The number of a name, which becomes one when it is new.
    pub(super) fn own(&mut self, name: &str) -> usize {
        if let Some(at) = self.index.get(name) {
            return *at;
        }
        self.all.push(name.to_owned());
        self.index.insert(name.to_owned(), self.all.len() - 1);
        self.all.len() - 1
    }

    pub(super) fn len(&self) -> usize {
        self.all.len()
    }

    pub(super) fn name(&self, at: usize) -> &str {
        &self.all[at]
    }

    /// A sum of dimensions by number.
    ///
    /// # Errors
    /// The name that is no dimension of the job.
    pub(super) fn terms<'f>(&self, form: &'f Linear) -> Result<Terms, &'f str> {
        let number = |name| self.index.get(name).copied().ok_or(name);
        form.terms.iter().map(|term| Ok((number(term.name.as_str())?, term.factor))).collect()
    }

    /// A form by number.
    ///
    /// # Errors
    /// The name that is no dimension of the job.
    pub(super) fn form<'f>(&self, form: &'f Form) -> Result<least_squares::Form, &'f str> {
        Ok(match form {
            Form::Linear(only) => least_squares::Form::Sum(self.terms(only)?),
            Form::Ratio(over, under) => {
                least_squares::Form::Ratio(self.terms(over)?, self.terms(under)?)
            }
            Form::Product(one, other) => {
                least_squares::Form::Product(self.terms(one)?, self.terms(other)?)
            }
            Form::Diagonal(one, other) => {
                least_squares::Form::Diagonal(self.terms(one)?, self.terms(other)?)
            }
        })
    }
}
