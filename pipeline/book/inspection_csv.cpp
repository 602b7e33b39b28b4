#include "book/inspection_csv.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>

#include "book/csv_table.h"
#include "book/number_text.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/photos.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr std::array session_columns{"tag", "finding", "where",      "how bad", "photos",   "feature",
                                     "at",  "reading", "instrument", "u",       "at least", "at most",
                                     "of",  "source",  "by",         "date"};

class Session {
  public:
    Session(const Book& book, const std::filesystem::path& file, const SessionDefaults& defaults)
        : book_(book),
          name_(printable_name(file.filename().string())),
          table_(read_csv(file)),
          defaults_(defaults),
          comma_(table_.separator == ',' ? number::Comma::could_part_thousands
                                         : number::Comma::decimal_mark) {}

    std::vector<SessionRow> rows() {
        if (table_.rows.empty()) {
            throw BadFile(
                fmt::format("{}: is empty; a session begins with a row of headings, one of them tag", name_));
        }
        read_headings(table_.rows.front());
        std::vector<SessionRow> rows;
        for (std::size_t i = 1; i < table_.rows.size(); ++i) {
            rows.push_back(row_of(table_.rows[i]));
        }
        return rows;
    }

  private:
    [[noreturn]] void refuse(const CsvRow& row, const std::string& why) const {
        throw BadFile(fmt::format("{} line {}: {}; nothing was taken in", name_, row.line, why));
    }

    void read_headings(const CsvRow& row) {
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            const std::string heading = in_small_letters(without_outer_spaces(row.cells[i].text));
            const bool known =
                std::find(session_columns.begin(), session_columns.end(), heading) != session_columns.end();
            if (!heading.empty() && !known) {
                refuse(row, fmt::format("there is no column \"{}\" in a session: there are {}",
                                        printable_name(heading), fmt::join(session_columns, ", ")));
            }
            if (!heading.empty() && !columns_.emplace(heading, i).second) {
                refuse(row, fmt::format("the column \"{}\" is there twice", heading));
            }
        }
        if (!columns_.contains("tag")) {
            refuse(row, "there is no column \"tag\" in the row of headings");
        }
        headings_ = row.cells.size();
    }

    [[nodiscard]] std::string cell(const CsvRow& row, const std::string& heading) const {
        const auto column = columns_.find(heading);
        const bool there = column != columns_.end() && column->second < row.cells.size();
        return there ? without_outer_spaces(row.cells[column->second].text) : "";
    }

    [[nodiscard]] number::TypedLength length(const CsvRow& row, const std::string& heading) const {
        return number::length_from_typed(cell(row, heading), defaults_.unit, comma_);
    }

    [[nodiscard]] InspectionEntry entry(const CsvRow& row) const {
        InspectionEntry entry;
        entry.by = cell(row, "by").empty() ? defaults_.by : cell(row, "by");
        entry.on = cell(row, "date").empty() ? defaults_.on : cell(row, "date");
        if (!is_date(entry.on)) {
            refuse(row,
                   fmt::format("\"{}\" is not a date: write it as 2026-11-25", printable_name(entry.on)));
        }
        return entry;
    }

    SessionRow row_of(const CsvRow& row) {
        if (row.cells.size() > headings_) {
            refuse(row, fmt::format("there are {} cells for {} headings", row.cells.size(), headings_));
        }
        try {
            SessionRow session(number::TagNumber::from_typed(cell(row, "tag"), book_.code()));
            session.line = row.line;
            static_cast<void>(part_or_refusal(book_, session.tag));
            session.finding = finding_of(row);
            session.reading = reading_of(row);
            session.limit = limit_of(row);
            if (!session.finding && !session.reading && !session.limit) {
                refuse(row, "this row holds no finding, no reading and no limit");
            }
            return session;
        } catch (const WrongUse& error) {
            refuse(row, printable_name(error.what()));
        }
    }

    // Cells that mean nothing without another one are a slip of a column.
    void need(const CsvRow& row, const std::string& needed, std::initializer_list<const char*> by) const {
        for (const char* heading : by) {
            if (!cell(row, heading).empty() && cell(row, needed).empty()) {
                refuse(row, fmt::format("\"{}\" stands under {}, and nothing under {}",
                                        printable_name(cell(row, heading)), heading, needed));
            }
        }
    }

    std::optional<Finding> finding_of(const CsvRow& row) const {
        need(row, "finding", {"where", "how bad", "photos"});
        if (cell(row, "finding").empty()) {
            return std::nullopt;
        }
        return Finding{entry(row), in_small_letters(cell(row, "finding")), cell(row, "where"),
                       cell(row, "how bad"), photos_from_typed(book_, cell(row, "photos"))};
    }

    std::optional<GaugeReading> reading_of(const CsvRow& row) {
        need(row, "feature", {"at", "reading", "at least", "at most"});
        need(row, "reading", {"at", "instrument", "u"});
        if (cell(row, "reading").empty()) {
            return std::nullopt;
        }
        const auto typed = length(row, "reading");
        GaugeReading reading{entry(row), cell(row, "feature"), cell(row, "at"),        typed.mm,
                             typed.text, std::nullopt,         cell(row, "instrument")};
        const std::string instrument = in_small_letters(reading.instrument);
        if (!cell(row, "u").empty()) {
            reading.u_mm = length(row, "u").mm;
            u_in_file_[instrument] = *reading.u_mm;
        } else if (const auto known = u_in_file_.find(instrument); known != u_in_file_.end()) {
            reading.u_mm = known->second;
        } else if (!instrument.empty()) {
            reading.u_mm = last_u_of_instrument(book_, reading.instrument);
        }
        return reading;
    }

    std::optional<GaugeLimit> limit_of(const CsvRow& row) const {
        GaugeLimit limit;
        limit.entry = entry(row);
        limit.feature = cell(row, "feature");
        limit.source = cell(row, "source");
        const std::string of = in_small_letters(cell(row, "of"));
        if (!of.empty() && of != "value" && of != "spread") {
            refuse(row, fmt::format("\"{}\" stands under of: it is value or spread", printable_name(of)));
        }
        limit.of_spread = of == "spread";
        if (!cell(row, "at least").empty()) {
            const auto lower = length(row, "at least");
            limit.lower_mm = lower.mm;
            limit.lower_typed = lower.text;
        }
        if (!cell(row, "at most").empty()) {
            const auto upper = length(row, "at most");
            limit.upper_mm = upper.mm;
            limit.upper_typed = upper.text;
        }
        const bool told = limit.lower_mm || limit.upper_mm;
        if (!told && (!limit.source.empty() || !of.empty())) {
            refuse(row, "a limit needs a value under at least or at most");
        }
        return told ? std::optional(limit) : std::nullopt;
    }

    const Book& book_;
    std::string name_;
    CsvTable table_;
    const SessionDefaults& defaults_;
    number::Comma comma_;
    std::map<std::string, std::size_t> columns_;
    std::size_t headings_ = 0;
    std::map<std::string, double> u_in_file_;
};

int keep_row(Book& book, const SessionRow& row, const std::string& who) {
    int kept = 0;
    if (row.limit) {
        add_limit(book, row.tag, *row.limit, who);
        ++kept;
    }
    if (row.finding) {
        add_finding(book, row.tag, *row.finding, who);
        ++kept;
    }
    if (row.reading) {
        add_reading(book, row.tag, *row.reading, who);
        ++kept;
    }
    return kept;
}

}  // namespace

std::vector<SessionRow> read_session(const Book& book, const std::filesystem::path& file,
                                     const SessionDefaults& defaults) {
    return Session(book, file, defaults).rows();
}

int keep_session(Book& book, const std::vector<SessionRow>& rows, const std::string& file_name,
                 const std::string& who) {
    int kept = 0;
    book.together([&] {
        for (const auto& row : rows) {
            try {
                kept += keep_row(book, row, who);
            } catch (const WrongUse& error) {
                throw BadFile(fmt::format("{} line {}: {}; nothing was taken in", printable_name(file_name),
                                          row.line, error.what()));
            }
        }
    });
    return kept;
}

bool is_date(const std::string& text) {
    constexpr std::size_t length = 10;
    if (text.size() != length || text[4] != '-' || text[7] != '-') {
        return false;
    }
    const auto year = whole_from(text.substr(0, 4));
    const auto month = whole_from(text.substr(5, 2));
    const auto day = whole_from(text.substr(8, 2));
    return year && month && day &&
           std::chrono::year_month_day(std::chrono::year(*year),
                                       std::chrono::month(static_cast<unsigned>(*month)),
                                       std::chrono::day(static_cast<unsigned>(*day)))
               .ok();
}

std::vector<PhotoNumber> photos_from_typed(const Book& book, const std::string& text) {
    std::vector<PhotoNumber> photos;
    std::size_t at = 0;
    while ((at = text.find_first_not_of(" ,;", at)) != std::string::npos) {
        const auto end = std::min(text.find_first_of(" ,;", at), text.size());
        photos.push_back(photo_from_typed(book, text.substr(at, end - at)));
        at = end;
    }
    return photos;
}

}  // namespace stripbook::book
