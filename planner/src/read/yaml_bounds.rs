//! Bounds on how much of a YAML file is read before it is refused.

use serde_yaml::{Budget, NonFiniteFloatPolicy, Options};

/// What the YAML crate is told.
pub(super) fn options() -> Options {
    let mut options = Options::default();
    let mut budget = Budget::default();
    // A block with 16 cylinders and its studs is some 500 nodes, five levels deep.
    budget.max_depth = 16;
    budget.max_nodes = 50_000;
    budget.max_events = 200_000;
    budget.max_aliases = 100;
    budget.max_anchors = 100;
    options.budget = Some(budget);
    options.strict_booleans = true;
    // Told where a number is asked for, with the key.
    options.non_finite_float_policy = NonFiniteFloatPolicy::PassThrough;
    options.with_snippet = false;
    options.underscored_numbers_as_strings = true;
    options
}
