// The job book: the folder of one restoration. This room is the only place that speaks SQL. One file per kind
// of record (parts.h, originals.h, photos.h, sightings.h, links.h, history.h, settings.h); here is the book
// itself.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "number/tag_number.h"

namespace stripbook::book {

struct SqlAccess;  // the door to the database, for this room only (sql_access.h)

enum class Access {
    read,   ///< never writes; serves a book on a read-only disk
    write,  ///< holds the book's lock until the Book is destroyed
};

class Book {
  public:
    /// Makes a job book in `folder` (made if missing). Throws WrongUse when the folder holds anything already
    /// (a book there is named as such), OutsideError when it cannot be written.
    static Book start(const std::filesystem::path& folder, const number::BookCode& code,
                      const std::string& title, const std::string& who);

    /// Opens the book in `folder`. An older format is copied aside (book.db.format-N) and upgraded in one
    /// transaction; a newer one opens for reading only. Throws BookError: not a book; newer format and
    /// Access::write; locked by another command (waits up to `wait_s` seconds first, then names it: what,
    /// since when, process); a file system whose locking cannot be trusted (NFS, SMB/CIFS, FUSE network
    /// mounts) with Access::write; read-only disk with Access::write; damaged. `doing` names the command for
    /// whoever finds the book locked, for example "dump".
    static Book open(const std::filesystem::path& folder, Access access, const std::string& doing,
                     double wait_s = 10);

    /// The folder `from` or the nearest one above it that holds a book.db, else nothing.
    static std::optional<std::filesystem::path> find(const std::filesystem::path& from);

    Book(Book&&) noexcept;
    Book& operator=(Book&&) noexcept;
    ~Book();

    [[nodiscard]] const std::filesystem::path& folder() const;
    [[nodiscard]] const number::BookCode& code() const;
    [[nodiscard]] const std::string& title() const;
    /// What opening had to say to the person ("upgraded from format 1; the old file is kept as ..."), else
    /// empty.
    [[nodiscard]] const std::string& opening_note() const;

    /// Runs `work` in one transaction: all of it is kept or, when it throws, none. May be nested (the outer
    /// one rules).
    void together(const std::function<void()>& work);

    /// From now on what this Book's transactions change is one act of a person, which undo can take back
    /// (acts.h). `command`: as it was typed.
    void begin_act(const std::string& command);

  private:
    friend struct SqlAccess;
    struct Inside;
    explicit Book(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> inside_;
};

/// The format number this program writes.
int current_format();

}  // namespace stripbook::book
