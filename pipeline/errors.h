// The few kinds of failure that leave a function as an exception. Each carries one line for the person at the
// edge: what is wrong, with which file or tag, and what to do next. Bad data that is expected (a torn tag, a
// photo that does not decode) is a value in the result, not an exception.
#pragma once

#include <stdexcept>
#include <string>

namespace stripbook {

/// Base of all of them; the commands catch this once and print the line.
class Error : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// The command was used wrongly: a word, a number or a file that was typed. Exit status 2.
class WrongUse : public Error {
  public:
    using Error::Error;
};

/// What a file holds is not what it should hold (a parts list, a picture asked for by name). Exit status 2.
class BadFile : public Error {
  public:
    using Error::Error;
};

/// The world outside failed: disk, card, permission. Exit status 3.
class OutsideError : public Error {
  public:
    using Error::Error;
};

/// The job book cannot serve: not a book, from a newer program, in use, damaged. Exit status 3.
class BookError : public Error {
  public:
    using Error::Error;
};

/// The person stopped the work (Ctrl-C). Everything done so far is kept. Exit status 3.
class Stopped : public Error {
  public:
    using Error::Error;
};

}  // namespace stripbook
