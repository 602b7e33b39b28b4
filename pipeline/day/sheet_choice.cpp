#include "day/sheet_choice.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "number/marker_layout.h"

namespace stripbook::day {

namespace {

using book::MarkerSheet;

std::optional<number::MarkerSheetName> sheet_read(const std::string& kind,
                                                  const std::vector<book::Sighting>& seen) {
    for (const auto& sighting : seen) {
        if (sighting.kind == book::SightingKind::other_code) {
            const auto name = number::marker_sheet_from_text(sighting.text);
            if (name && name->kind == kind) {
                return name;
            }
        }
    }
    return std::nullopt;
}

scale::SheetCorrection correction_of(const MarkerSheet& sheet) {
    const auto c = number::correction_of(number::marker_layout(sheet.kind), sheet.check->measured);
    return {c.across, c.along, std::max(c.u_across, c.u_along)};
}

// One correction for whichever of the sheets it is: the middle of their factors, and the spread as a
// rectangle (JCGM 100:2008, 4.3.7).
scale::SheetCorrection covering(const std::vector<MarkerSheet>& sheets) {
    scale::SheetCorrection low = correction_of(sheets.front());
    scale::SheetCorrection high = low;
    double u = 0;
    for (const auto& sheet : sheets) {
        const auto one = correction_of(sheet);
        low.across = std::min(low.across, one.across);
        low.along = std::min(low.along, one.along);
        high.across = std::max(high.across, one.across);
        high.along = std::max(high.along, one.along);
        u = std::max(u, one.u_relative);
    }
    const double half_width = std::max(high.across - low.across, high.along - low.along) / 2;
    return {(low.across + high.across) / 2, (low.along + high.along) / 2,
            std::hypot(u, half_width / std::sqrt(3.0))};
}

SheetChoice without_correction(const std::string& words, const std::string& refusal, bool unmeasured_too) {
    if (unmeasured_too) {
        return {scale::unmeasured_sheet(), words + ", never measured", ""};
    }
    return {std::nullopt, words, refusal};
}

SheetChoice that_sheet(const number::MarkerSheetName& name, const std::vector<MarkerSheet>& sheets,
                       bool unmeasured_too) {
    const std::string words = number::marker_sheet_text(number::marker_layout(name.kind), name.number);
    const auto sheet = std::find_if(sheets.begin(), sheets.end(), [&name](const MarkerSheet& s) {
        return s.kind == name.kind && s.number == name.number;
    });
    if (sheet != sheets.end() && sheet->check) {
        return {correction_of(*sheet), words, ""};
    }
    return without_correction(
        words,
        fmt::format(
            "sheet {} was never measured; measure its check lines and say: stripbook markers measured {} "
            "--sheet {} --across ... --along ...",
            words, name.kind, name.number),
        unmeasured_too);
}

SheetChoice any_sheet(const std::string& kind, const std::vector<MarkerSheet>& sheets, bool unmeasured_too) {
    std::vector<MarkerSheet> in_use;
    std::copy_if(sheets.begin(), sheets.end(), std::back_inserter(in_use),
                 [&kind](const MarkerSheet& s) { return s.kind == kind && !s.retired; });
    const std::string words = in_use.size() == 1
                                  ? number::marker_sheet_text(number::marker_layout(kind), in_use[0].number)
                                  : fmt::format("any of {} {} sheets", in_use.size(), kind);
    const bool all_measured = !in_use.empty() && std::all_of(in_use.begin(), in_use.end(),
                                                             [](const MarkerSheet& s) { return s.check; });
    if (all_measured) {
        return {covering(in_use), words, ""};
    }
    return without_correction(
        in_use.empty() ? "a " + kind + " sheet unknown to the book" : words,
        fmt::format(
            "the photo does not say which {0} sheet it is, and not every one in use was measured; measure "
            "them (stripbook markers list) and say: stripbook markers measured {0} --across ... --along ...",
            kind),
        unmeasured_too);
}

}  // namespace

SheetChoice choose_sheet(const std::string& kind, const std::vector<MarkerSheet>& sheets,
                         const std::vector<book::Sighting>& seen, bool unmeasured_too) {
    const auto name = sheet_read(kind, seen);
    return name ? that_sheet(*name, sheets, unmeasured_too) : any_sheet(kind, sheets, unmeasured_too);
}

}  // namespace stripbook::day
