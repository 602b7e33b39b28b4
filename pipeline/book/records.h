// The records of a job book as plain values. Every kind of number has its own type, so that a part's serial
// cannot be passed as a photo's number.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "number/tag_number.h"

namespace stripbook::book {

/// Running number of a photo in the book: `p1234` in every caption and command that names a photo.
struct PhotoNumber {
    std::int64_t value = 0;
    [[nodiscard]] std::string text() const { return "p" + std::to_string(value); }
    auto operator<=>(const PhotoNumber&) const = default;
};

struct OriginalId {
    std::int64_t value = 0;
    auto operator<=>(const OriginalId&) const = default;
};

struct DumpId {
    std::int64_t value = 0;
    auto operator<=>(const DumpId&) const = default;
};

struct CameraId {
    std::int64_t value = 0;
    auto operator<=>(const CameraId&) const = default;
};

/// The paths a part can take, in the book's fixed words.
inline constexpr std::array<const char*, 7> path_words{"undecided", "use again", "repair", "buy",
                                                       "make",      "hold",      "scrap"};
/// The stages of a photo or part, in the order of the work.
inline constexpr std::array<const char*, 7> stage_words{"as-removed", "cleaned", "inspected", "blasted",
                                                        "mock-up",    "painted", "refitted"};

struct Part {
    explicit Part(number::TagNumber t) : tag(std::move(t)) {}
    number::TagNumber tag;
    std::string name;      ///< empty: "name not yet known"
    std::string assembly;  ///< levels of the machine, parted by " / ": "Running gear / Axle 2"
    std::string place;     ///< where on the machine it sat
    std::optional<number::TagNumber> parent{};  ///< the part it was taken from
    std::string storage;                        ///< where it lies now
    std::optional<int> quantity_expected;
    std::optional<int> quantity_present;
    std::optional<double> face_height_mm;  ///< height of the measured face above the bench
    std::string condition;
    std::string path = "undecided";
    std::map<std::string, std::string> notes;  ///< other columns of the parts list, heading to cell
    std::string other_tag;  ///< text of the code on a tag that somebody else printed and that this part wears
    bool listed = false;    ///< came in by a parts list; false: known only from a photo of its tag
    bool operator==(const Part&) const = default;
};

enum class FileKind { photo, video, other };

/// One stored file: bytes that were written, synced, read back and compared.
struct Original {
    OriginalId id;
    std::string sha256;  ///< 64 hexadecimal digits, lower case
    std::uint64_t bytes = 0;
    std::string stored_path;  ///< relative to the book folder, always UTF-8, for example photos/0001/DCIM/...
    FileKind kind = FileKind::other;
};

/// A time as a camera writes it: local, without zone, to the sub-second; and where it came from.
struct CaptureTime {
    double seconds = 0;      ///< since 1970-01-01 as if the local time were UTC
    std::string text;        ///< "2026-03-20T08:58:15.83", as the camera said it
    std::string utc_offset;  ///< "+01:00" where the camera wrote one, else empty
    std::string source;      ///< "EXIF" or "file time"
};

/// Whether the reading station has looked at a photo.
enum class ReadState { not_yet, read, damaged };

struct Photo {
    PhotoNumber number;
    Original original;
    std::string name_on_card;  ///< printable form, for example DCIM/101FERRO/FVA_9993.JPG
    DumpId dump;               ///< in which it was first seen: one card
    double file_time_s = 0;    ///< the card's file time, since 1970-01-01 UTC
    CameraId camera;
    std::string camera_words;  ///< "Ferrow FV-20 A10442"
    CaptureTime camera_time;
    /// The workshop's local time when it was taken, as if that were UTC, as far as its clock is known
    /// (docs/clocks.md); for order and captions.
    double corrected_seconds = 0;
    std::optional<double> utc_s;    ///< true time, since 1970-01-01 UTC; empty: not known
    std::optional<double> utc_u_s;  ///< its standard uncertainty
    std::string utc_how;            ///< how it was found; empty: not looked at yet
    int dcf_directory = 0;          ///< 100..999, or 0 where the folder is no DCF directory
    int dcf_counter = 0;            ///< 1..9999, or 0 where the name is no DCF name
    int width_px = 0;               ///< of the stored picture, before the EXIF turn
    int height_px = 0;
    int orientation = 1;  ///< EXIF 1..8
    std::optional<double> focal_length_mm;
    std::optional<double> focal_length_35_mm;
    ReadState read_state = ReadState::not_yet;
    std::string read_note;                       ///< why it is damaged, or what was noticed
    std::optional<std::string> stage_by_person;  ///< one of stage_words
    int read_by = 0;  ///< version of the reading station that read it; 0: none, or before they were numbered
};

/// Facts of a photo as the reading station found them, to be written into a Photo.
struct PhotoFacts {
    std::string maker, model, serial;  ///< of the camera body; empty when not said
    std::optional<CaptureTime> exif_time;
    int width_px = 0, height_px = 0, orientation = 1;
    std::optional<double> focal_length_mm, focal_length_35_mm;
    ReadState read_state = ReadState::read;
    std::string read_note;
    int read_by = 0;  ///< version of the reading station
};

struct PointPx {
    double x = 0;
    double y = 0;
};

enum class SightingKind { tag, scale_marker, stage_card, clock_shot, report, other_code };

/// A fiducial of a scale marker as seen, corners clockwise from its own top left.
struct MarkerCorners {
    int identity = 0;
    std::array<PointPx, 4> corners_px{};
};

/// Something printed that was seen in a photo. Pixels: stored picture before any EXIF turn, whole numbers are
/// pixel centres, x right, y down. Corners clockwise from the printed thing's own top left.
struct Sighting {
    SightingKind kind = SightingKind::tag;
    std::string text;        ///< tag number, kind of marker, stage word, or the code's text; empty: not known
    bool confirmed = false;  ///< else it is a suggestion for a person
    std::string how;         ///< in words, for example "QR code and 4 fiducials"
    std::string doubt;       ///< why it is only a suggestion
    bool by_qr = false;      ///< a QR code with a right check character was read
    bool other_maker = false;  ///< told as this part's tag since the parts list names its text (other tag)
    int fiducials = 0;         ///< fiducials that agree (tag) or were seen (scale marker)
    std::array<PointPx, 4> corners_px{};
    std::vector<std::string> suggestions;       ///< tag numbers a person may be shown, best first
    std::vector<MarkerCorners> marker_corners;  ///< of a scale marker: what measuring rests on
};

/// A photo belongs to a part.
struct Link {
    PhotoNumber photo;
    number::TagNumber tag;
    std::string why;
    double sure = 0;  ///< 0..1: how probable the link is; 1 a person's word
    bool by_person = false;
};

/// How sure a link is, for people and scripts: "said" (by a person), "sure" (its tag is in the picture),
/// "likely".
inline const char* sure_word(const Link& link) {
    constexpr double sure_from = 0.95;
    return link.by_person ? "said" : link.sure >= sure_from ? "sure" : "likely";
}

/// A person said that a photo does not belong to a part.
struct Refusal {
    PhotoNumber photo;
    number::TagNumber tag;
};

/// A photo that the linking left to a person.
struct Unsettled {
    PhotoNumber photo;
    std::string why;
    std::vector<number::TagNumber> suggestions;  ///< best first
    std::vector<double> chances{};               ///< how probable each is; may be empty
};

/// One field of a record that differs.
struct CellChange {
    std::string field;
    std::string before;
    std::string after;
    bool operator==(const CellChange&) const = default;
};

/// One change of a record, as the history keeps it.
struct Change {
    std::string at;  ///< UTC, RFC 3339
    std::string who;
    std::string what;   ///< the record: "PET-00417-D", "p12", "setting", "book"
    std::string field;  ///< "name", "link", ...
    std::string before;
    std::string after;
    std::string how;  ///< the command or station that did it, for example "parts import parts.csv"
};

}  // namespace stripbook::book
