#include "day/read_photo.h"

#include <fmt/format.h>

#include <iterator>
#include <sstream>

#include "day/file_bytes.h"
#include "day/picture_sightings.h"
#include "day/read_video.h"
#include "photo/metadata.h"
#include "photo/picture.h"
#include "photo/signature.h"

namespace stripbook::day {

namespace {

constexpr const char* photo_word = "photo";
constexpr const char* video_word = "video";

book::PhotoFacts facts_of(const photo::Metadata& metadata, const photo::Picture& picture) {
    book::PhotoFacts facts;
    facts.maker = metadata.maker;
    facts.model = metadata.model;
    facts.serial = metadata.serial;
    if (const auto seconds = photo::seconds_of(metadata.time)) {
        facts.exif_time = book::CaptureTime{*seconds, metadata.time, metadata.utc_offset, "EXIF"};
    }
    facts.width_px = picture.stored.width;
    facts.height_px = picture.stored.height;
    facts.orientation = metadata.orientation;
    facts.focal_length_mm = metadata.focal_length_mm;
    facts.focal_length_35_mm = metadata.focal_length_35_mm;
    facts.read_state = picture.whole ? book::ReadState::read : book::ReadState::damaged;
    facts.read_note = !picture.whole ? picture.fault : metadata.fault.empty() ? picture.note : metadata.fault;
    return facts;
}

}  // namespace

PhotoReading read_photo(std::string_view file_bytes, const Expected& expected) {
    const photo::Picture picture = photo::decode_grey(file_bytes);
    const photo::Metadata metadata = photo::read_metadata(file_bytes);
    PhotoReading reading{facts_of(metadata, picture), {}, {}, {}};
    // What there is of a damaged picture is read too: a tag in it helps the person who decides.
    if (!picture.pixels.empty()) {
        reading.sightings = sightings_in(picture.pixels, expected);
    }
    if (picture.whole) {
        reading.signature = photo::signature_of(picture.pixels, metadata.thumbnail, file_bytes);
    }
    return reading;
}

std::string job_for(const std::string& path, book::FileKind kind, const Expected& expected) {
    // A path and a code's text are any bytes, so none of them ends another: lengths say where.
    std::string job = fmt::format("{} {} {} ", kind == book::FileKind::video ? video_word : photo_word,
                                  expected.here.text(), expected.other_tags.size());
    for (const auto& text : expected.other_tags) {
        job += fmt::format("{} {}", text.size(), text);
    }
    return job + path;
}

std::string answer_to(const std::string& job) {
    std::istringstream words(job);
    std::string kind;
    std::string code;
    std::size_t count = 0;
    words >> kind >> code >> count;
    words.get();
    Expected expected{number::BookCode::from_typed(code), {}};
    for (std::size_t i = 0; i < count; ++i) {
        std::size_t length = 0;
        words >> length;
        words.get();
        std::string text(length, '\0');
        words.read(text.data(), static_cast<std::streamsize>(length));
        expected.other_tags.push_back(text);
    }
    const std::string path{std::istreambuf_iterator<char>(words), std::istreambuf_iterator<char>()};
    return to_answer(kind == video_word ? read_video(path, expected)
                                        : read_photo(bytes_of_original(path), expected));
}

}  // namespace stripbook::day
