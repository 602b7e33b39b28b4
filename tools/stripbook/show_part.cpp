#include "show_part.h"

#include <fmt/format.h>

#include <string>
#include <vector>

#include "book/paths.h"
#include "book/settings.h"
#include "command.h"
#include "measure/dimension.h"
#include "print/dimension_words.h"
#include "show_record.h"

namespace stripbook::cli {

namespace {

void print_field(const char* label, const std::string& value) {
    if (!value.empty()) {
        fmt::print("  {:<10} {}\n", label, book::printable_name(value));
    }
}

std::string quantities(const book::Part& part) {
    std::string text;
    if (part.quantity_expected) {
        text = fmt::format("{} expected", *part.quantity_expected);
    }
    if (part.quantity_present) {
        text += fmt::format("{}{} present", text.empty() ? "" : ", ", *part.quantity_present);
    }
    return text;
}

void print_photo(const book::Book& book, const book::PartPhoto& p) {
    fmt::print("    {:<6} {}  {}{}\n", p.photo.number.text(), p.photo.camera_time.text,
               book::printable_name(p.photo.camera_words), p.on_bench ? ", on the bench" : "");
    fmt::print("           {}\n", (book.folder() / p.photo.original.stored_path).string());
    fmt::print("           {}: {}\n", book::sure_word(p.link), p.link.why);
    if (!p.stage_why.empty()) {
        fmt::print("           {}: {}\n", p.stage.empty() ? "stage not set" : p.stage, p.stage_why);
    }
}

void print_photos_at(const book::Book& book, const book::PartFile& file, const std::string& stage) {
    bool headed = false;
    for (const auto& p : file.photos) {
        if (p.stage != stage) {
            continue;
        }
        if (!headed) {
            fmt::print("  {}\n", stage.empty() ? "stage not set" : stage);
            headed = true;
        }
        print_photo(book, p);
    }
}

// Centre distances are many: the report and `measure` have them.
void print_dimensions(const book::Book& book, const book::PartFile& file) {
    const bool inch = book::setting(book, "units") == "inch";
    for (const auto& m : file.measurements) {
        if (m.dimensions.empty()) {
            continue;
        }
        fmt::print("  dimensions from {}\n", m.photo.text());
        for (const auto& d : m.dimensions) {
            if (d.name != measure::name_of(measure::DimensionKind::centre_distance)) {
                const auto words = print::value_words(d, inch);
                fmt::print("    {:<18} {:>12}  U {}\n", print::dimension_name(d), words.value,
                           words.expanded);
            }
        }
        fmt::print("    {}\n", measure::no_gauge_note);
    }
}

}  // namespace

std::string heading_of(const book::Part& part) {
    return fmt::format("{}  {}", part.tag.text(),
                       part.name.empty() ? "name not yet known" : book::printable_name(part.name));
}

void print_part(const book::Book& book, const book::PartFile& file) {
    const book::Part& part = file.part;
    fmt::print("{}\n", heading_of(part));
    for (const auto& line : book::cautions_for(file.hazards)) {
        fmt::print("  ! {}\n", book::printable_name(line));
    }
    print_field("assembly", part.assembly);
    print_field("sat", part.place);
    print_field("lies now", part.storage);
    print_field("quantity", quantities(part));
    if (part.face_height_mm) {
        print_field("face", fmt::format("{:g} mm above the bench", *part.face_height_mm));
    }
    print_field("condition", part.condition);
    print_path(file, book::setting(book, "currency"));
    print_belongings(file);
    for (const auto& [heading, cell] : part.notes) {
        fmt::print("  {}: {}\n", book::printable_name(heading), book::printable_name(cell));
    }
    if (file.photos.empty()) {
        fmt::print("  no photo is linked to it yet\n");
    }
    for (const char* stage : book::stage_words) {
        print_photos_at(book, file, stage);
    }
    print_photos_at(book, file, "");
    print_inspection(file, {unit_of(book) == number::LengthUnit::inch, false}, false);
    print_dimensions(book, file);
}

void print_history(const book::PartFile& file) {
    fmt::print("  history\n");
    for (const auto& c : file.history) {
        fmt::print("    {}  {}: {}{} {} ({})\n", c.at, book::printable_name(c.who),
                   book::printable_name(c.field),
                   c.before.empty() ? "" : fmt::format(" from \"{}\"", book::printable_name(c.before)),
                   fmt::format("to \"{}\"", book::printable_name(c.after)), book::printable_name(c.how));
    }
}

}  // namespace stripbook::cli
