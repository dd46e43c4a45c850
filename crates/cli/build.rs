//! Takes the symbols out of the released binary: cargo forgets `strip` of a profile for a crate that has a line of its own in it.

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    let is = |name: &str, value: &str| std::env::var(name).is_ok_and(|own| own == value);
    if is("PROFILE", "release") && is("CARGO_CFG_TARGET_OS", "linux") {
        println!("cargo::rustc-link-arg-bins=-Wl,--strip-all");
    }
}
