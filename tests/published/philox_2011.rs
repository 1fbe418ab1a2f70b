//! J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, "Parallel Random Numbers: As Easy as 1, 2,
//! 3" (SC11, 2011): the three known answers of Philox4x32-10 in the file `kat_vectors` of the
//! authors' library (read, in copies that quote the file).

use relatch::internals::statistics::philox::philox4x32_10;

#[test]
fn known_answers() {
    let all = u32::MAX;
    assert_eq!(
        philox4x32_10([0; 4], [0; 2]),
        [0x6627_e8d5, 0xe169_c58d, 0xbc57_ac4c, 0x9b00_dbd8]
    );
    assert_eq!(
        philox4x32_10([all; 4], [all; 2]),
        [0x408f_276d, 0x41c8_3b0e, 0xa20b_c7c6, 0x6d54_51fd]
    );
    assert_eq!(
        philox4x32_10(
            [0x243f_6a88, 0x85a3_08d3, 0x1319_8a2e, 0x0370_7344],
            [0xa409_3822, 0x299f_31d0]
        ),
        [0xd16c_fe09, 0x94fd_cceb, 0x5001_e420, 0x2412_6ea1]
    );
}
