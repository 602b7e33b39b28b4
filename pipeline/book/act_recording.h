// Recording what a transaction changes in what people say, for undo (acts.h). For this room only.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

#include "book/book.h"

namespace stripbook::book {

/// Whether undo takes back changes of this table. Not: what the program works out anew by itself, what came
/// in with cards and from reading, what left the house on paper, and the history.
bool is_of_people(const std::string& table);

/// The acts that are kept: so many, and older ones only while all together take no more room than this.
inline constexpr int most_acts = 50;
inline constexpr std::int64_t most_acts_bytes = 64LL << 20;

/// One transaction, from here to keep().
class ActRecording {
  public:
    explicit ActRecording(Book& book);
    ~ActRecording();
    ActRecording(const ActRecording&) = delete;
    ActRecording& operator=(const ActRecording&) = delete;

    /// Adds what changed since then to act `id` (0: to a new one) before the transaction is kept. Returns the
    /// act's number, or `id` when nothing of people's changed.
    std::int64_t keep(std::int64_t id, const std::string& command);

  private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace stripbook::book
