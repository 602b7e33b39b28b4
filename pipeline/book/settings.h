// Settings of a book, all in one place.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"

namespace stripbook::book {

struct Setting {
    std::string name;        ///< for example "link time"
    std::string value;       ///< as set, or the default
    std::string meaning;     ///< one line for people, with the unit and what is allowed
    bool is_default = true;  ///< nobody set it
};

/// Every setting with its value: "link time" (minutes, default 3), "link sureness" (chance, default 0.9),
/// "units" (mm or inch, default mm), "time zone" (an IANA name, default UTC), "who" (default empty: the login
/// name), "currency" (default empty), "workshop" (printed on reports, default empty).
std::vector<Setting> all_settings(const Book& book);

/// The value of one setting. Throws WrongUse for an unknown name.
std::string setting(const Book& book, const std::string& name);

/// Sets one, checked; kept in the history. Throws WrongUse with what is allowed.
void set_setting(Book& book, const std::string& name, const std::string& value, const std::string& who);

/// The login name of whoever runs the program, else "unknown".
std::string login_name();

/// Who is at work: the setting "who", else the login name, else "unknown".
std::string who_is_working(const Book& book);

}  // namespace stripbook::book
