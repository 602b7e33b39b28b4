#include "dump/check_originals.h"

#include <set>
#include <utility>

#include "book/originals.h"
#include "book/paths.h"
#include "dump/incoming.h"
#include "dump/part_file.h"

namespace stripbook::dump {

namespace {

constexpr const char* store_again = "; if a card or a second copy still has it, bring it back from there";

// What lies under photos/, as paths relative to the book.
struct Lying {
    std::set<std::string> files;
    std::set<std::string> links;
    std::set<std::string> others;  // pipes, sockets, devices
    std::size_t incoming = 0;
};

class Check {
  public:
    Check(const book::Book& book, FileDoor& door, Meter meter)
        : book_(book), door_(door), meter_(std::move(meter)) {}

    CheckResult run() {
        const auto originals = book::all_originals(book_);
        std::uint64_t bytes = 0;
        for (const auto& original : originals) {
            bytes += original.bytes;
        }
        meter_.expect(bytes, originals.size());
        look_under_photos();
        for (const auto& original : originals) {
            meter_.begin_file(original.stored_path);
            check(original);
            recorded_.insert(original.stored_path);
            meter_.end_file();
        }
        name_what_is_extra();
        result_.inside = book::faults_inside(book_);
        return std::move(result_);
    }

  private:
    void look_under_photos() {
        std::vector<std::string> folders{book::photos_folder};
        while (!folders.empty()) {
            const std::string folder = std::move(folders.back());
            folders.pop_back();
            for (const auto& name : names_in(folder)) {
                std::string path = folder;
                path.append("/").append(name);
                if (path == book::incoming_folder) {
                    lying_.incoming = names_in(path).size();
                } else {
                    look_at(path, folders);
                }
            }
        }
    }

    std::vector<std::string> names_in(const std::string& folder) {
        try {
            return door_.names_in(book_.folder() / folder);
        } catch (const FileError& error) {
            result_.unreadable.push_back(
                line(folder, std::string(error.what()) + "; see to the disk or its permissions"));
            return {};
        }
    }

    void look_at(const std::string& path, std::vector<std::string>& folders) {
        const auto facts = door_.look(book_.folder() / path);
        if (!facts) {
            return;
        }
        switch (facts->kind) {
            case EntryKind::file:
                lying_.files.insert(path);
                break;
            case EntryKind::folder:
                folders.push_back(path);
                break;
            case EntryKind::link:
                lying_.links.insert(path);
                break;
            case EntryKind::other:
                lying_.others.insert(path);
                break;
        }
    }

    void check(const book::Original& original) {
        const std::string& path = original.stored_path;
        if (behind_a_link(path)) {
            result_.changed.push_back(
                line(path, std::string("a link stands in its place or above it") + store_again));
        } else if (lying_.files.count(path) != 0) {
            check_bytes(original);
        } else if (door_.look(book_.folder() / path)) {
            result_.changed.push_back(line(path, std::string("no file any more") + store_again));
        } else {
            result_.missing.push_back(line(path, std::string("is missing") + store_again));
        }
    }

    void check_bytes(const book::Original& original) {
        try {
            const auto source = door_.open_to_read(book_.folder() / original.stored_path);
            const std::string sha256 = hash_of(*source, [&](std::string_view bytes) {
                result_.bytes += bytes.size();
                meter_.advance(bytes.size());
            });
            ++result_.files;
            if (sha256 != original.sha256) {
                result_.changed.push_back(
                    line(original.stored_path, std::string("is not what was taken in") + store_again));
            }
        } catch (const FileError& error) {
            result_.unreadable.push_back(line(
                original.stored_path, std::string(error.what()) + "; see to the disk or its permissions"));
        }
    }

    [[nodiscard]] bool behind_a_link(const std::string& path) const {
        for (auto slash = path.find('/'); slash != std::string::npos; slash = path.find('/', slash + 1)) {
            if (lying_.links.count(path.substr(0, slash)) != 0) {
                return true;
            }
        }
        return lying_.links.count(path) != 0;
    }

    void name_what_is_extra() {
        if (lying_.incoming > 0) {
            result_.extra.push_back(
                line(book::incoming_folder, "left by an interrupted dump: run dump again"));
        }
        for (const auto& path : lying_.files) {
            if (recorded_.count(path) == 0) {
                result_.extra.push_back(
                    line(path, "did not come in by a dump: move it out of the book's photos"));
            }
        }
        for (const auto& path : lying_.others) {
            if (recorded_.count(path) == 0) {
                result_.extra.push_back(line(path, "is no file: remove it"));
            }
        }
        for (const auto& path : lying_.links) {
            if (recorded_.count(path) == 0) {
                result_.changed.push_back(line(path, "is a link; put the files themselves in its place"));
            }
        }
    }

    static std::string line(const std::string& path, const std::string& what) {
        return book::printable_name(path) + ": " + what;
    }

    const book::Book& book_;
    FileDoor& door_;
    Meter meter_;
    Lying lying_;
    std::set<std::string> recorded_;
    CheckResult result_;
};

}  // namespace

CheckResult check_originals(const book::Book& book, FileDoor& door,
                            const std::function<void(const Progress&)>& progress,
                            const std::function<bool()>& stop) {
    return Check(book, door, Meter(progress, stop, "nothing was changed; run the check again")).run();
}

}  // namespace stripbook::dump
