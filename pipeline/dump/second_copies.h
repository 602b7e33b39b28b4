// Second copies of originals, in a folder on another disk: second_folder/<BOOK CODE>/<stored path>.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>

#include "book/book.h"
#include "book/records.h"
#include "dump/file_door.h"
#include "dump/part_file.h"

namespace stripbook::dump {

class SecondCopies {
  public:
    /// Makes the folders and sweeps away what a killed dump left there. Does not throw when the folder cannot
    /// be used: the first copies go on, and settle() says why for each file.
    SecondCopies(book::Book& book, const std::filesystem::path& folder, FileDoor& door);

    /// Empty when the folder can be used.
    [[nodiscard]] const std::string& failure() const { return failure_; }
    /// Said to the person when the copies lie on the book's own disk; else empty.
    [[nodiscard]] const std::string& remark() const { return remark_; }
    [[nodiscard]] bool on_the_books_disk() const { return !remark_.empty(); }
    /// Where the copies go; for looking at its disk.
    [[nodiscard]] const std::filesystem::path& root() const { return root_; }
    /// As the book records it.
    [[nodiscard]] const std::string& recorded_name() const { return recorded_name_; }

    /// A copy to be written along with the first one; only when the folder can be used.
    std::unique_ptr<PartFile> begin(std::size_t file_number);
    /// Uses the copy that lies at its place already when it is right; else proves `part` and gives it its
    /// place; else copies once more, from the book. Then records it. `part` may be nothing. Returns why there
    /// is no proved second copy; empty when there is one.
    std::string settle(const book::Original& original, std::unique_ptr<PartFile> part,
                       const std::function<void()>& between);

  private:
    std::unique_ptr<PartFile> copied_from_book(const book::Original& original,
                                               const std::function<void()>& between);
    void place(const book::Original& original, std::unique_ptr<PartFile> part,
               const std::function<void()>& between);

    book::Book& book_;
    FileDoor& door_;
    std::filesystem::path root_;
    std::filesystem::path incoming_;
    std::string recorded_name_;
    std::string failure_;
    std::string remark_;
};

}  // namespace stripbook::dump
