#include "sample_maker/range.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <optional>
#include <string_view>

#include "errors.h"

namespace stripbook::sample_maker {

namespace {

template <typename Number>
std::optional<Number> number_from(std::string_view text) {
    Number number{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc{} || end != text.data() + text.size()) {
        return std::nullopt;
    }
    return number;
}

// The text before and after the first `sign`; the second is the same as the first when there is none.
std::pair<std::string_view, std::string_view> halves(std::string_view text, char sign) {
    const std::size_t at = text.find(sign);
    return at == std::string_view::npos ? std::pair(text, text)
                                        : std::pair(text.substr(0, at), text.substr(at + 1));
}

}  // namespace

Range range_from(const std::string& text, const std::string& option) {
    const auto [low_text, high_text] = halves(text, ':');
    const auto low = number_from<double>(low_text);
    const auto high = number_from<double>(high_text);
    if (!low || !high || !std::isfinite(*low) || !std::isfinite(*high) || *low > *high) {
        throw WrongUse(fmt::format("{} \"{}\" is not a number or a range: give 2 or 1.0:3.0.", option, text));
    }
    return {*low, *high};
}

cv::Size size_from(const std::string& text) {
    const auto [width_text, height_text] = halves(text, 'x');
    const auto width = number_from<int>(width_text);
    const auto height = number_from<int>(height_text);
    if (!width || !height || text.find('x') == std::string::npos) {
        throw WrongUse(fmt::format("--size \"{}\" is not a picture size: give it as 1600x1200.", text));
    }
    return {*width, *height};
}

}  // namespace stripbook::sample_maker
