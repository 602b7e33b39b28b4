// stripbook inspect: findings, gauge readings and limits of a part.
#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <vector>

#include "book/inspection_csv.h"
#include "book/number_text.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "command.h"
#include "errors.h"
#include "json_record.h"
#include "json_text.h"
#include "print_job.h"
#include "show_part.h"
#include "show_record.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string tag;
    std::string from;
    std::string finding, where, how_bad;
    std::vector<std::string> photos;
    std::vector<std::string> reading;
    std::string at, instrument, u;
    std::string limit, at_least, at_most, source;
    bool spread = false;
    std::string by, on;
    std::string corrects, take_back, why;
    bool fractions = false;

    [[nodiscard]] bool adds() const { return !finding.empty() || !reading.empty() || !limit.empty(); }
    [[nodiscard]] bool changes() const { return adds() || !take_back.empty() || !from.empty(); }
};

// Options that mean nothing alone are a slip.
void check_together(const Typed& t) {
    const bool of_finding = !t.where.empty() || !t.how_bad.empty() || !t.photos.empty();
    const bool of_reading = !t.at.empty() || !t.instrument.empty() || !t.u.empty();
    const bool of_limit = !t.at_least.empty() || !t.at_most.empty() || !t.source.empty() || t.spread;
    if (of_finding && t.finding.empty()) {
        throw WrongUse(fmt::format("--where, --how-bad and --photos go with --finding: {}",
                                   fmt::join(book::finding_kinds, ", ")));
    }
    if (of_reading && t.reading.empty()) {
        throw WrongUse("--at, --instrument and --u go with --reading: --reading \"bore\" 45.02");
    }
    if (of_limit && t.limit.empty()) {
        throw WrongUse("--at-least, --at-most, --spread and --source go with --limit: --limit \"bore\"");
    }
    if (t.reading.size() == 1) {
        throw WrongUse("--reading needs the feature and its value: --reading \"bore\" 45.02");
    }
    const std::size_t entries = (t.finding.empty() ? 0U : 1U) + (t.limit.empty() ? 0U : 1U) +
                                (t.reading.empty() ? 0U : t.reading.size() - 1);
    if (!t.corrects.empty() && entries != 1) {
        throw WrongUse(
            "--corrects goes with one finding, one reading or one limit, which takes the other's place");
    }
    if (!t.take_back.empty() && entries != 0) {
        throw WrongUse(
            "--take-back goes alone, with --why; to put another entry in its place use --corrects");
    }
}

book::InspectionEntry entry_from(const book::Book& book, const Typed& t) {
    book::InspectionEntry entry;
    entry.by = t.by.empty() ? book::who_is_working(book) : t.by;
    entry.on = t.on.empty() ? today() : typed_day(t.on, "--on");
    if (!t.corrects.empty()) {
        entry.corrects = typed_whole(t.corrects, "--corrects");
    }
    return entry;
}

book::Finding finding_from(const book::Book& book, const Typed& t) {
    return {entry_from(book, t), book::in_small_letters(t.finding), t.where, t.how_bad,
            book::photos_from_typed(book, as_one_text(t.photos))};
}

std::vector<book::GaugeReading> readings_from(const book::Book& book, const Typed& t) {
    const auto unit = unit_of(book);
    std::optional<double> u_mm;
    if (!t.u.empty()) {
        u_mm = number::length_from_typed(t.u, unit).mm;
    } else if (!t.instrument.empty()) {
        u_mm = book::last_u_of_instrument(book, t.instrument);
    }
    std::vector<book::GaugeReading> readings;
    for (std::size_t i = 1; i < t.reading.size(); ++i) {
        const auto value = number::length_from_typed(t.reading[i], unit);
        readings.push_back(
            {entry_from(book, t), t.reading[0], t.at, value.mm, value.text, u_mm, t.instrument});
    }
    return readings;
}

book::GaugeLimit limit_from(const book::Book& book, const Typed& t) {
    const auto unit = unit_of(book);
    book::GaugeLimit limit;
    limit.entry = entry_from(book, t);
    limit.feature = t.limit;
    limit.of_spread = t.spread;
    limit.source = t.source;
    if (!t.at_least.empty()) {
        const auto lower = number::length_from_typed(t.at_least, unit);
        limit.lower_mm = lower.mm;
        limit.lower_typed = lower.text;
    }
    if (!t.at_most.empty()) {
        const auto upper = number::length_from_typed(t.at_most, unit);
        limit.upper_mm = upper.mm;
        limit.upper_typed = upper.text;
    }
    return limit;
}

void keep(book::Book& book, const number::TagNumber& tag, const Typed& t) {
    const std::string who = book::who_is_working(book);
    book.together([&] {
        if (!t.take_back.empty()) {
            book::take_back_entry(book, tag, typed_whole(t.take_back, "--take-back"), t.why, who);
        }
        if (!t.limit.empty()) {
            book::add_limit(book, tag, limit_from(book, t), who);
        }
        if (!t.finding.empty()) {
            book::add_finding(book, tag, finding_from(book, t), who);
        }
        for (const auto& reading : readings_from(book, t)) {
            book::add_reading(book, tag, reading, who);
        }
    });
}

void session(const Typed& t, const Context& context) {
    if (!t.tag.empty() || t.adds() || !t.take_back.empty()) {
        throw WrongUse("--from brings a whole session, whose file names the parts: give it alone");
    }
    auto book = open_book(context, book::Access::write, "inspect");
    const auto entry = entry_from(book, t);
    const auto rows = book::read_session(book, t.from, {entry.by, entry.on, unit_of(book)});
    const int kept = book::keep_session(book, rows, std::filesystem::path(t.from).filename().string(),
                                        book::who_is_working(book));
    if (context.json) {
        print_json({{"rows", rows.size()}, {"entries", kept}});
        return;
    }
    fmt::print("{} from {}\n", counted(static_cast<std::size_t>(kept), "entry", "entries"),
               counted(rows.size(), "row", "rows"));
}

void inspect(const Typed& t, const Context& context) {
    if (!t.from.empty()) {
        session(t, context);
        return;
    }
    if (t.tag.empty()) {
        throw WrongUse(
            "say which part: stripbook inspect 417, or bring a session: stripbook inspect --from FILE");
    }
    check_together(t);
    auto book = open_book(context, t.changes() ? book::Access::write : book::Access::read, "inspect");
    const auto tag = book::part_from_typed(book, t.tag);
    if (t.changes()) {
        keep(book, tag, t);
    }
    const auto file = book::gather_part(book, tag);
    if (context.json) {
        auto answer = inspection_json(file);
        answer["tag"] = tag.text();
        print_json(answer);
        return;
    }
    fmt::print("{}\n", heading_of(file.part));
    for (const auto& line : book::cautions_for(file.hazards)) {
        fmt::print("  ! {}\n", book::printable_name(line));
    }
    if (file.inspection.empty()) {
        fmt::print("  nothing was found or measured yet\n");
    }
    print_inspection(file, {unit_of(book) == number::LengthUnit::inch, t.fractions}, true);
}

}  // namespace

void add_inspect(CLI::App& app, Context& context) {
    auto t = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "inspect",
                    "what was found on a part and measured of it with instruments, and its limits");
    command->add_option("tag", t->tag, "tag number: PET-00417-D, PET-00417 or 417");
    command->add_option("--from", t->from, "a bench session as CSV (docs/commands.md names the columns)");
    command->add_option("--finding", t->finding, fmt::format("{}", fmt::join(book::finding_kinds, ", ")));
    command->add_option("--where", t->where, "where on the part");
    command->add_option("--how-bad", t->how_bad, "in words: \"through, 12 mm\"");
    command->add_option("--photos", t->photos, "photos that show it: p12,p13");
    command->add_option("--reading", t->reading,
                        "feature and value: \"bore\" 45.02; several values are several readings");
    command->add_option("--at", t->at, "where on the feature: top, front end");
    command->add_option("--instrument", t->instrument, "what it was measured with");
    command->add_option("--u", t->u, "its standard uncertainty: 0.01 (default: the last one given for it)");
    command->add_option("--limit", t->limit, "the feature that has a limit");
    command->add_option("--at-least", t->at_least, "the smallest it may be");
    command->add_option("--at-most", t->at_most, "the largest it may be");
    command->add_flag("--spread", t->spread, "the limit is one of the largest reading less the smallest");
    command->add_option("--source", t->source, "drawing or manual that gives the limit");
    command->add_option("--by", t->by, "who saw or measured it (default: who is at work)");
    command->add_option("--on", t->on, "the day, 2026-11-25 (default: today)");
    command->add_option("--corrects", t->corrects, "the entry whose place this one takes");
    command->add_option("--take-back", t->take_back, "an entry that was a mistake");
    command->add_option("--why", t->why, "why it is taken back");
    command->add_flag("--fractions", t->fractions, "show lengths also as inches in sixty-fourths");
    command->callback([t, &context] { inspect(*t, context); });
}

}  // namespace stripbook::cli
