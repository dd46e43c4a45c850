//! Arguments of `serve`.

use std::path::PathBuf;

/// Arguments of `serve`.
#[derive(Debug, clap::Args)]
pub struct ServeArgs {
    /// Folder of the documents.
    #[arg(default_value = ".")]
    pub folder: PathBuf,
    /// Shop that procedures are held against.
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// Test record that procedures are held against; may be given several times.
    #[arg(long, value_name = "FILE")]
    pub record: Vec<PathBuf>,
    /// Port on this machine; if left out, the one that the folder had before, else a free one.
    #[arg(long)]
    pub port: Option<u16>,
    /// Do not open a browser; the address is printed.
    #[arg(long)]
    pub no_open: bool,
    /// Write nothing, whatever is asked on the page.
    #[arg(long)]
    pub read_only: bool,
    /// Also show cards, to read only, to telephones in the same network.
    #[arg(long)]
    pub lan: bool,
}
