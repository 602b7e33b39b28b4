// Which text the pages can show as it is written. What they cannot is never garbled: a note takes its place.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "print/lettering.h"

namespace stripbook::print {

/// Why `text` cannot be printed as written: "in Arabic script", "with characters that the report's type
/// lacks", "with combined marks"; empty when it can. Printed right: left-to-right scripts that need no
/// joining or reordering and that the type draws (Latin, Greek, Cyrillic, Armenian, Georgian), and signs;
/// nothing else.
std::string why_not_printable(std::u32string_view text, const Lettering& lettering);

/// The door through which every text from outside goes onto a page.
class PrintableText {
  public:
    /// `record` is what the remarks name, for example the tag number.
    PrintableText(const Lettering& lettering, std::string record)
        : lettering_(lettering), record_(std::move(record)) {}

    /// The text, composed and without control characters; or, where it cannot be printed, a note in brackets,
    /// and a remark. `what` names it ("name"), `where` says where it can be read ("the parts list").
    std::string operator()(std::string_view text, const std::string& what,
                           const std::string& where = "the parts list");

    void add_remark(std::string remark);
    [[nodiscard]] const std::vector<std::string>& remarks() const { return remarks_; }

  private:
    const Lettering& lettering_;
    std::string record_;
    std::vector<std::string> remarks_;
};

}  // namespace stripbook::print
