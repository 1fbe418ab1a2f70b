//! Packs the font of the figures, which is half as large so.

fn main() {
    #[cfg(feature = "figures")]
    fonts().expect("the folder of the build takes the packed fonts");
    println!("cargo::rerun-if-changed=src/build.rs");
}

#[cfg(feature = "figures")]
fn fonts() -> std::io::Result<()> {
    use flate2::{Compression, write::ZlibEncoder};
    use std::io::Write;

    let folder = std::path::PathBuf::from(std::env::var_os("OUT_DIR").expect("set by cargo"));
    for (name, font) in [
        ("regular", dejavu::sans::regular()),
        ("bold", dejavu::sans::bold()),
    ] {
        let file = std::fs::File::create(folder.join(name))?;
        let mut packer = ZlibEncoder::new(file, Compression::best());
        packer.write_all(font)?;
        packer.finish()?;
    }
    Ok(())
}
