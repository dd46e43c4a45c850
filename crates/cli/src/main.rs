//! The binary. 
fn main() {}
