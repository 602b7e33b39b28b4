#include "book/photo_rows.h"

#include <filesystem>

#include "book/number_text.h"
#include "book/stored_values.h"

namespace stripbook::book {

const char* const select_photos =
    "SELECT photo.number, original.id, original.sha256, original.bytes, original.stored_path, original.kind, "
    "card_file.name_words, coalesce(camera.joined, camera.id), camera.maker, camera.model, camera.serial, "
    "dump.card_words, "
    "photo.time_s, photo.time_text, photo.time_utc_offset, photo.time_source, "
    "coalesce(true_time.corrected_s, photo.time_s - coalesce(camera.offset_s, 0)), photo.dcf_directory, "
    "photo.dcf_counter, "
    "photo.width_px, photo.height_px, photo.orientation, photo.focal_length_mm, photo.focal_length_35_mm, "
    "photo.read_state, photo.read_note, photo.stage_by_person, photo.read_by, card_file.dump, "
    "card_file.modified_s, true_time.utc_s, true_time.u_s, coalesce(true_time.how, ''), "
    "coalesce(joined.name, camera.name, '') "
    "FROM photo JOIN original ON original.id = photo.original JOIN card_file ON card_file.id = "
    "photo.card_file "
    "JOIN dump ON dump.id = card_file.dump LEFT JOIN camera ON camera.id = photo.camera "
    "LEFT JOIN camera AS joined ON joined.id = camera.joined "
    "LEFT JOIN true_time ON true_time.photo = photo.number ";

namespace {

// Many cameras say the maker twice: "Ferrow" and "Ferrow FV-20".
std::string maker_and_model(const std::string& maker, const std::string& model) {
    const bool repeated = in_small_letters(model).rfind(in_small_letters(maker), 0) == 0;
    return repeated ? model : maker + " " + model;
}

}  // namespace

std::string camera_words(const std::string& maker, const std::string& model, const std::string& serial,
                         const std::string& card) {
    std::string words =
        without_outer_spaces(without_outer_spaces(maker_and_model(maker, model)) + " " + serial);
    if (!words.empty()) {
        return words;
    }
    std::filesystem::path folder(card);
    const std::string name = (folder.has_filename() ? folder : folder.parent_path()).filename().string();
    return "camera of card " + (name.empty() ? card : name);
}

namespace {

Original original_in_row(Query& row) {
    return {{row.whole(1)},
            row.text(2),
            static_cast<std::uint64_t>(row.whole(3)),
            row.text(4),
            kind_from_stored(row.text(5))};
}

// A person's name for the camera, before what it says of itself.
std::string with_name(const std::string& name, const std::string& words) {
    return name.empty() ? words : name + " (" + words + ")";
}

}  // namespace

Photo photo_of_row(Query& row) {
    Photo photo;
    photo.number = {row.whole(0)};
    photo.original = original_in_row(row);
    photo.name_on_card = row.text(6);
    photo.camera = {row.whole(7)};
    photo.camera_words =
        with_name(row.text(33), camera_words(row.text(8), row.text(9), row.text(10), row.text(11)));
    photo.camera_time = {row.real(12), row.text(13), row.text(14), row.text(15)};
    photo.corrected_seconds = row.real(16);
    photo.dcf_directory = row.small(17);
    photo.dcf_counter = row.small(18);
    photo.width_px = row.small(19);
    photo.height_px = row.small(20);
    photo.orientation = row.small(21);
    photo.focal_length_mm = row.maybe_real(22);
    photo.focal_length_35_mm = row.maybe_real(23);
    photo.read_state = read_state_from_stored(row.text(24));
    photo.read_note = row.text(25);
    photo.stage_by_person = row.maybe_text(26);
    photo.read_by = row.small(27);
    photo.dump = {row.whole(28)};
    photo.file_time_s = row.real(29);
    photo.utc_s = row.maybe_real(30);
    photo.utc_u_s = row.maybe_real(31);
    photo.utc_how = row.text(32);
    return photo;
}

}  // namespace stripbook::book
