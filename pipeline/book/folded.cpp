#include "book/folded.h"

#include <utf8proc.h>

#include <cstdlib>
#include <memory>

namespace stripbook::book {

std::string folded(const std::string& text) {
    utf8proc_uint8_t* out = nullptr;
    constexpr auto options = static_cast<utf8proc_option_t>(
        UTF8PROC_STABLE | UTF8PROC_DECOMPOSE | UTF8PROC_COMPAT | UTF8PROC_CASEFOLD | UTF8PROC_STRIPMARK);
    const auto length = utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                                     static_cast<utf8proc_ssize_t>(text.size()), &out, options);
    const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> owned(out, &std::free);
    if (length < 0) {
        return text;
    }
    return {reinterpret_cast<const char*>(out), static_cast<std::size_t>(length)};
}

}  // namespace stripbook::book
