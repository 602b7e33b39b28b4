#include "number/sheet_check.h"

#include <fmt/format.h>

#include <cmath>

#include "errors.h"

namespace stripbook::number {

namespace {

struct Length {
    const char* name;
    double drawn_mm;
    double measured_mm;
    [[nodiscard]] double off() const { return measured_mm / drawn_mm - 1; }
};

std::vector<Length> lengths_of(const MarkerLayout& layout, const SheetMeasured& measured) {
    std::vector<Length> lengths{{"line across", layout.check_across.length(), measured.across_mm},
                                {"line along", layout.check_along.length(), measured.along_mm}};
    if (measured.outer) {
        const OuterMeasured& outer = *measured.outer;
        const double width = layout.outer_width();
        const double height = layout.outer_height();
        const double diagonal = std::hypot(width, height);
        lengths.insert(lengths.end(), {{"top side", width, outer.top},
                                       {"right side", height, outer.right},
                                       {"bottom side", width, outer.bottom},
                                       {"left side", height, outer.left},
                                       {"falling diagonal", diagonal, outer.falling},
                                       {"rising diagonal", diagonal, outer.rising}});
    }
    return lengths;
}

// One question about a length, if there is one.
std::optional<std::string> question_about(const Length& length) {
    if (!(std::abs(length.off()) <= refused_share)) {
        throw WrongUse(
            fmt::format("the {} is drawn {:.1f} mm long and cannot have printed as {:.1f} mm: measure "
                        "again, from tick to tick, in the units of the book",
                        length.name, length.drawn_mm, length.measured_mm));
    }
    if (std::abs(length.off()) <= questioned_share) {
        return std::nullopt;
    }
    return fmt::format("the {} is {:+.1f} % off ({:.1f} mm instead of {:.1f})", length.name,
                       100 * length.off(), length.measured_mm, length.drawn_mm);
}

void ask_if_askew(const char* words, double one, double other, std::vector<std::string>& questions) {
    if (std::abs(one - other) > askew_share * (one + other) / 2) {
        questions.push_back(
            fmt::format("{} differ by {:.1f} mm: the pieces sit askew", words, std::abs(one - other)));
    }
}

}  // namespace

SheetCorrection correction_of(const MarkerLayout& layout, const SheetMeasured& measured) {
    if (!measured.outer) {
        const double across = layout.check_across.length();
        const double along = layout.check_along.length();
        return {measured.across_mm / across, measured.along_mm / along, measured.line_u_mm / across,
                measured.line_u_mm / along};
    }
    const OuterMeasured& outer = *measured.outer;
    const double width = layout.outer_width();
    const double height = layout.outer_height();
    const double u_mean_mm = tape_u_mm / std::sqrt(2.0);
    return {(outer.top + outer.bottom) / 2 / width, (outer.left + outer.right) / 2 / height,
            u_mean_mm / width, u_mean_mm / height};
}

std::vector<std::string> questions_about(const MarkerLayout& layout, int pieces,
                                         const SheetMeasured& measured) {
    if (pieces > 1 && !measured.outer) {
        throw WrongUse(fmt::format(
            "a {} glued from {} sheets is checked on its outer sides and both diagonals too: add --sides TOP "
            "RIGHT BOTTOM LEFT --diagonals FALLING RISING, from corner mark to corner mark",
            layout.kind, pieces));
    }
    std::vector<std::string> questions;
    for (const Length& length : lengths_of(layout, measured)) {
        if (const auto question = question_about(length)) {
            questions.push_back(*question);
        }
    }
    if (measured.outer) {
        ask_if_askew("top and bottom side", measured.outer->top, measured.outer->bottom, questions);
        ask_if_askew("left and right side", measured.outer->left, measured.outer->right, questions);
        ask_if_askew("the diagonals", measured.outer->falling, measured.outer->rising, questions);
    }
    return questions;
}

}  // namespace stripbook::number
