// What the four fiducials of a tag say: the serial number as a [4, 2] code word of minimum distance 3 over
// GF(587).
//
//     m0 = serial div 587, m1 = serial mod 587
//     identity(i) = m0 + m1 * (i + 1) + salt(book, i)   mod 587,  i = 0..3
//     salt(book, i) = first four bytes, big-endian, of SHA-256(book in ASCII, then the byte i)
//
// 587 is prime and AprilTag family 36h11 has 587 identities. Any two fiducials give the serial, any third
// confirms it (a Reed-Solomon code with evaluation points 1..4; MDS, so distance 4 - 2 + 1 = 3).
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "number/tag_number.h"

namespace stripbook::number {

inline constexpr int field_size = 587;

/// Identities of the fiducials at corners 0 to 3.
using Identities = std::array<int, 4>;
/// The same as seen: a corner that was not seen is empty.
using SeenIdentities = std::array<std::optional<int>, 4>;

Identities identities_of(const TagNumber& tag);

/// One serial number that explains at least two of the seen fiducials.
struct CodeWordFit {
    TagNumber tag;
    int agreeing = 0;     ///< seen fiducials that the number explains
    int disagreeing = 0;  ///< seen fiducials that it does not
};

/// Every number of `book` that explains at least two of `seen`, most agreeing first. Empty when fewer than
/// two are seen or no pair gives a serial of 1..99999.
std::vector<CodeWordFit> fits_of(const BookCode& book, const SeenIdentities& seen);

/// `seen` with the tag turned by half: the layout repeats, so corner i could be corner i + 2.
SeenIdentities turned_by_half(const SeenIdentities& seen);

/// What a group of fiducials says when both corner assignments are tried.
struct CodeWordReading {
    /// Set when at least three fiducials agree, none disagrees, under exactly one corner assignment.
    std::optional<TagNumber> confirmed;
    /// Whether the confirmed reading is of the group turned by half.
    bool turned = false;
    /// Numbers a person may be shown when nothing is confirmed, best first.
    std::vector<TagNumber> suggestions;
};

CodeWordReading read_code_word(const BookCode& book, const SeenIdentities& seen);

}  // namespace stripbook::number
