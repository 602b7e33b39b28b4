// stripbook hazard: what is dangerous about a part.
#include <fmt/format.h>

#include <memory>
#include <vector>

#include "book/hazards.h"
#include "book/number_text.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "command.h"
#include "errors.h"
#include "json_text.h"
#include "number/decimal_text.h"
#include "show_part.h"

namespace stripbook::cli {

namespace {

constexpr double kg_per_pound = 0.45359237;  // exact (NIST SP 811, B.8)

struct Typed {
    std::string tag;
    std::vector<std::string> kind;
    std::string mass;
    std::string note;
    bool take_back = false;
};

// "180", "180 kg", "400 lb".
double mass_kg_from(const std::string& typed) {
    const std::string text = book::in_small_letters(book::without_outer_spaces(typed));
    const auto last = text.find_last_of("0123456789.,");
    const auto amount = last == std::string::npos ? "" : text.substr(0, last + 1);
    const auto unit = book::without_outer_spaces(text.substr(amount.size()));
    if (!unit.empty() && unit != "kg" && unit != "lb") {
        throw WrongUse(fmt::format("--mass {}: write kilograms or pounds, for example 180, 180 kg or 400 lb",
                                   book::printable_name(typed)));
    }
    const double value = number::decimal_from_typed(amount).value();
    return unit == "lb" ? value * kg_per_pound : value;
}

void show(const book::Book& book, const book::Part& part, const Context& context) {
    const auto hazards = book::hazards_of(book, part.tag);
    if (context.json) {
        print_json({{"tag", part.tag.text()}, {"hazards", to_json(hazards)}});
        return;
    }
    fmt::print("{}\n", heading_of(part));
    for (const auto& line : book::cautions_for(hazards)) {
        fmt::print("  ! {}\n", book::printable_name(line));
    }
    if (hazards.empty()) {
        fmt::print("  no hazard is recorded, which does not mean that there is none\n");
    }
}

void change(book::Book& book, const number::TagNumber& tag, const Typed& typed) {
    const std::string kind = book::hazard_kind_from_typed(fmt::format("{}", fmt::join(typed.kind, " ")));
    if (typed.take_back) {
        book::take_back_hazard(book, tag, kind, book::who_is_working(book));
        return;
    }
    book::Hazard hazard;
    hazard.kind = kind;
    hazard.note = typed.note;
    if (!typed.mass.empty()) {
        hazard.mass_kg = mass_kg_from(typed.mass);
    }
    book::set_hazard(book, tag, hazard, book::who_is_working(book));
}

void hazard(const Typed& typed, const Context& context) {
    const bool says_nothing = typed.kind.empty();
    if (says_nothing && (typed.take_back || !typed.mass.empty() || !typed.note.empty())) {
        throw WrongUse(fmt::format("say which hazard: {}", fmt::join(book::hazard_kinds, ", ")));
    }
    auto book = open_book(context, says_nothing ? book::Access::read : book::Access::write, "hazard");
    const auto tag = book::part_from_typed(book, typed.tag);
    const auto part = book::part_or_refusal(book, tag);
    if (!says_nothing) {
        change(book, tag, typed);
    }
    show(book, part, context);
}

}  // namespace

void add_hazard(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command = add_command(app, context, "hazard", "say what is dangerous about a part, or show it");
    command->add_option("tag", typed->tag, "tag number: PET-00417-D, PET-00417 or 417")->required();
    command->add_option("hazard", typed->kind, fmt::format("{}", fmt::join(book::hazard_kinds, ", ")));
    command->add_option("--mass", typed->mass, "of a heavy part: 180, 180 kg or 400 lb");
    command->add_option("--note", typed->note, "lifting points, or where it is");
    command->add_flag("--take-back", typed->take_back, "the part does not have this hazard");
    command->callback([typed, &context] { hazard(*typed, context); });
}

}  // namespace stripbook::cli
