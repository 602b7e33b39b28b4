#include "print/caption.h"

#include <fmt/format.h>

#include "book/clock.h"

namespace stripbook::print {

namespace {

std::string stage_line(const book::PartPhoto& photo) {
    if (photo.stage.empty()) {
        return "Stage not set";
    }
    return fmt::format("Stage: {}{}", photo.stage, photo.stage_by_person ? " (a person said so)" : "");
}

std::string time_line(const book::Photo& photo) {
    const book::CaptureTime& camera = photo.camera_time;
    if (camera.text.empty()) {
        return "Time not known";
    }
    std::string line = "Taken " + time_for_people(camera.text);
    if (!camera.utc_offset.empty()) {
        line += " " + camera.utc_offset;
    }
    line += camera.source == "EXIF" ? " by the camera's clock" : fmt::format(" by the {}", camera.source);
    if (!photo.utc_how.empty() && !photo.utc_s) {
        return line + "; true time not known";
    }
    // Below one second nothing shows in the printed time.
    if (std::abs(photo.corrected_seconds - camera.seconds) >= 1) {
        line += "; corrected " + time_for_people(photo.corrected_seconds);
    }
    return line;
}

std::string link_line(const book::Link& link, PrintableText& printable) {
    if (link.by_person) {
        return "Linked: a person said so";
    }
    if (link.why.empty()) {
        return fmt::format("Linked ({})", book::sure_word(link));
    }
    const std::string why = printable(link.why, "reason of a link", "the book");
    return fmt::format("Linked ({}): {}", book::sure_word(link), why);
}

}  // namespace

std::string file_name_for_people(const std::string& name_on_card) {
    constexpr std::string_view every_card_has = "DCIM/";
    return name_on_card.starts_with(every_card_has) ? name_on_card.substr(every_card_has.size())
                                                    : name_on_card;
}

std::string time_for_people(const std::string& time) {
    constexpr std::size_t to_the_second = 19;
    if (time.size() < to_the_second || time[10] != 'T') {
        return time;
    }
    return time.substr(0, 10) + " " + time.substr(11, 8);
}

std::string time_for_people(double seconds) {
    const auto words = book::time_words(seconds);
    return words ? time_for_people(*words) : "not known";
}

Caption caption_of(const book::PartPhoto& photo, PrintableText& printable) {
    const std::string number = photo.photo.number.text();
    Caption caption{number, {}};
    caption.lines.push_back(
        printable(file_name_for_people(photo.photo.name_on_card), "file name of " + number, "the book"));
    caption.lines.push_back(stage_line(photo));
    caption.lines.push_back(time_line(photo.photo));
    caption.lines.push_back(printable(photo.photo.camera_words, "camera of " + number, "the book"));
    caption.lines.push_back(link_line(photo.link, printable));
    std::erase(caption.lines, "");
    return caption;
}

}  // namespace stripbook::print
