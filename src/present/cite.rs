//! The program as a citation file.

/// What the engine and the statistics rest on beside those formulas.
const METHODS: [&str; 7] = [
    "R. Holm, Electric Contacts, 4th ed. (1967)",
    "C. Canuto, M. Y. Hussaini, A. Quarteroni & T. A. Zang, Spectral Methods in Fluid Dynamics (1988)",
    "E. Hairer, S. P. Norsett & G. Wanner, Solving Ordinary Differential Equations I, 2nd ed. \
     (1993), II.10",
    "E. Hairer & G. Wanner, Solving Ordinary Differential Equations II, 2nd ed. (1996), IV.7",
    "G. Steinebach, BIT Numer. Math. 63:27 (2023)",
    "A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259",
    "P. Del Moral, A. Doucet & A. Jasra, J. R. Statist. Soc. B 68 (2006) 411",
];

/// A citation file (CFF 1.2.0) of this version of the program. What its answers rest on follows as
/// comments: the sources of its formulas, and with `data` those of the metals and documents of one
/// scenario.
pub fn citation_file(formulas: &[&str], data: Option<&[String]>) -> String {
    let mut text = format!(
        "cff-version: 1.2.0\n\
         message: \"If results of this program are published, please cite it and the sources named below.\"\n\
         type: software\n\
         title: Relatch\n\
         version: {}\n\
         license: {}\n\
         abstract: \"{}\"\n\
         authors:\n  - name: The Relatch authors\n\
         \n# Formulas:\n",
        env!("CARGO_PKG_VERSION"),
        env!("CARGO_PKG_LICENSE"),
        env!("CARGO_PKG_DESCRIPTION"),
    );
    let listed = |text: &str| format!("# - {}\n", text.replace(['\n', '\r'], " "));
    text.extend(formulas.iter().map(|source| listed(source)));
    text += "\n# Contacts, numerics and statistics:\n";
    text.extend(METHODS.iter().map(|source| listed(source)));
    match data {
        Some(data) => {
            text += "\n# Metals and documents of the scenario:\n";
            text.extend(data.iter().map(|source| listed(source)));
        }
        None => {
            text += "\n# Metals and documents: `relatch cite SCENARIO` lists those of a scenario,\n\
                     # `relatch materials` those of every metal.\n";
        }
    }
    text
}
