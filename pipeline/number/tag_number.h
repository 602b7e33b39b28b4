// Tag numbers: `PET-00417-D`, that is book code, serial number and check character.
#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>

namespace stripbook::number {

/// The check character of ISO/IEC 7064 MOD 37,36 over `body` (characters 0-9 and A-Z).
/// Throws std::invalid_argument on any other character or an empty body.
/// Source: ISO/IEC 7064:2003 (hybrid systems); published example `A12425GABC1234002` gives `M`.
char check_character(std::string_view body);

/// A job book's code: 2 to 4 characters of A-Z 0-9, the first a letter.
class BookCode {
  public:
    /// From text in any case. Throws WrongUse, naming the rule, when it is not a book code.
    static BookCode from_typed(std::string_view text);
    /// Exactly a book code in capitals, else nothing.
    static std::optional<BookCode> from_exact(std::string_view text);
    [[nodiscard]] const std::string& text() const { return text_; }
    auto operator<=>(const BookCode&) const = default;

  private:
    explicit BookCode(std::string text) : text_(std::move(text)) {}
    std::string text_;
};

/// The highest serial number; a used-up series is refused, no number is used again.
inline constexpr int highest_serial = 99999;

/// One tag number. Always valid: serial 1 to 99999, and the check character follows from the rest.
class TagNumber {
  public:
    /// Throws WrongUse when `serial` is not 1 to 99999.
    TagNumber(BookCode book, int serial);

    /// Exactly the printed form with a right check character (what a QR code holds), else nothing.
    static std::optional<TagNumber> from_exact(std::string_view text);

    /// What a person types: case ignored; `417` is that serial in `here`; a check character only after a
    /// hyphen or after all five digits, and then it must be right. Throws WrongUse saying which rule was
    /// broken.
    static TagNumber from_typed(std::string_view text, const BookCode& here);

    [[nodiscard]] const BookCode& book() const { return book_; }
    [[nodiscard]] int serial() const { return serial_; }
    [[nodiscard]] char check() const;
    /// `PET-00417-D`
    [[nodiscard]] std::string text() const;
    /// `PET-00417`: what a parts list may also hold.
    [[nodiscard]] std::string short_text() const;
    auto operator<=>(const TagNumber&) const = default;

  private:
    BookCode book_;
    int serial_;
};

}  // namespace stripbook::number
