#include "book/photos.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "book/clock.h"
#include "book/history.h"
#include "book/number_text.h"
#include "book/paths.h"
#include "book/photo_rows.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "errors.h"

namespace stripbook::book {

namespace {

std::vector<Photo> photos_of(Query& query) {
    std::vector<Photo> photos;
    while (query.next()) {
        photos.push_back(photo_of_row(query));
    }
    return photos;
}

// What the card said of the photo when it was dumped.
struct CardFacts {
    std::string card;  ///< the card's folder
    double file_time_s = 0;
};

CardFacts card_facts(const Book& book, PhotoNumber number) {
    Query query(
        book,
        "SELECT dump.card_words, card_file.modified_s FROM photo JOIN card_file ON "
        "card_file.id = photo.card_file JOIN dump ON dump.id = card_file.dump WHERE photo.number = ?");
    query.with(number.value);
    if (!query.next()) {
        throw BookError(fmt::format("the book has no photo {}: a fault of the program", number.text()));
    }
    return {query.text(0), query.real(1)};
}

std::int64_t camera_for(Book& book, const PhotoFacts& facts, const std::string& card_folder) {
    const std::string maker = printable_name(facts.maker);
    const std::string model = printable_name(facts.model);
    const std::string serial = printable_name(facts.serial);
    const std::string card = serial.empty() ? card_folder : "";
    Query known(book, "SELECT id FROM camera WHERE maker = ? AND model = ? AND serial = ? AND card = ?");
    known.with(maker, model, serial, card);
    if (known.next()) {
        return known.whole(0);
    }
    Query(book, "INSERT INTO camera (maker, model, serial, card) VALUES (?, ?, ?, ?)")
        .with(maker, model, serial, card)
        .run();
    return last_row_number(book);
}

CaptureTime time_for(const PhotoFacts& facts, double file_time_s) {
    if (facts.exif_time && std::isfinite(facts.exif_time->seconds)) {
        const CaptureTime& said = *facts.exif_time;
        return {said.seconds, printable_name(said.text), printable_name(said.utc_offset), "EXIF"};
    }
    return {file_time_s, time_words(file_time_s).value_or(""), "", "file time"};
}

std::optional<double> only_finite(const std::optional<double>& value) {
    return value && std::isfinite(*value) ? value : std::nullopt;
}

std::int64_t highest_photo(const Book& book) {
    Query query(book, "SELECT coalesce(max(number), 0) FROM photo");
    query.next();
    return query.whole(0);
}

}  // namespace

std::vector<Photo> all_photos(const Book& book) {
    Query query(book, std::string(select_photos) + "ORDER BY photo.number");
    return photos_of(query);
}

std::optional<Photo> find_photo(const Book& book, PhotoNumber number) {
    Query query(book, std::string(select_photos) + "WHERE photo.number = ?");
    query.with(number.value);
    return query.next() ? std::optional(photo_of_row(query)) : std::nullopt;
}

std::optional<Photo> photo_of_original(const Book& book, OriginalId original) {
    Query query(book, std::string(select_photos) + "WHERE photo.original = ?");
    query.with(original.value);
    return query.next() ? std::optional(photo_of_row(query)) : std::nullopt;
}

std::vector<Photo> photos_to_read(const Book& book) {
    Query query(book,
                std::string(select_photos) + "WHERE photo.read_state = 'not yet' ORDER BY photo.number");
    return photos_of(query);
}

bool nothing_between(const Book& book, const Photo& first, const Photo& second) {
    Query query(book,
                "SELECT 1 FROM photo WHERE camera = ? AND (time_s, number) > (?, ?) AND (time_s, number) < "
                "(?, ?) LIMIT 1");
    query.with(first.camera.value, first.camera_time.seconds, first.number.value, second.camera_time.seconds,
               second.number.value);
    return !query.next();
}

void save_photo_facts(Book& book, PhotoNumber number, const PhotoFacts& facts) {
    book.together([&] {
        const CardFacts card = card_facts(book, number);
        const CaptureTime time = time_for(facts, card.file_time_s);
        Query(book,
              "UPDATE photo SET camera = ?, time_s = ?, time_text = ?, time_utc_offset = ?, time_source = ?, "
              "width_px = ?, height_px = ?, orientation = ?, focal_length_mm = ?, focal_length_35_mm = ?, "
              "read_state = ?, read_note = ?, read_by = ? WHERE number = ?")
            .with(camera_for(book, facts, card.card), time.seconds, time.text, time.utc_offset, time.source,
                  facts.width_px, facts.height_px, facts.orientation, only_finite(facts.focal_length_mm),
                  only_finite(facts.focal_length_35_mm), stored_read_state(facts.read_state),
                  printable_name(facts.read_note), facts.read_by, number.value)
            .run();
        // What it rested on may be another; linking works it out anew.
        Query(book, "DELETE FROM true_time WHERE photo = ?").with(number.value).run();
    });
}

std::filesystem::path poster_file(const Book& book, PhotoNumber video) {
    return book.folder() / derived_folder / "posters" / (video.text() + ".jpg");
}

PhotoNumber photo_from_typed(const Book& book, const std::string& text) {
    std::string digits = without_outer_spaces(text);
    if (!digits.empty() && (digits[0] == 'p' || digits[0] == 'P')) {
        digits.erase(0, 1);
    }
    const auto number = whole_from(digits);
    if (!number || *number < 1) {
        throw WrongUse(
            fmt::format("\"{}\" is not a photo number: type it as p12 or just 12", printable_name(text)));
    }
    const PhotoNumber photo{*number};
    if (!Query(book, "SELECT 1 FROM photo WHERE number = ?").with(photo.value).next()) {
        const auto highest = highest_photo(book);
        throw WrongUse(
            highest == 0
                ? fmt::format("the book has no photo {}: no card was dumped yet", photo.text())
                : fmt::format("the book has no photo {}: its photos are p1 to p{}", photo.text(), highest));
    }
    return photo;
}

void set_stage(Book& book, PhotoNumber number, const std::string& stage, const std::string& who) {
    if (!stage.empty() && std::find(stage_words.begin(), stage_words.end(), stage) == stage_words.end()) {
        throw WrongUse(fmt::format("\"{}\" is not a stage: there are {}", printable_name(stage),
                                   fmt::join(stage_words, ", ")));
    }
    book.together([&] {
        const auto photo = find_photo(book, number);
        if (!photo) {
            throw WrongUse(fmt::format("the book has no photo {}", number.text()));
        }
        const std::string before = photo->stage_by_person.value_or("");
        if (before == stage) {
            return;
        }
        Query(book, "UPDATE photo SET stage_by_person = ? WHERE number = ?")
            .with(stage.empty() ? std::nullopt : std::optional(stage), number.value)
            .run();
        note_change(book, who, number.text(), "stage", before, stage, "a person's word");
    });
}

}  // namespace stripbook::book
