//! AWS D1.3: figures on sheet steel.

use crate::rule::Rule;
use crate::table::{named, table};

table!(RULES, rules, "aws-d1-3-rules", Rule);
named!("aws-d1-3-rules");
