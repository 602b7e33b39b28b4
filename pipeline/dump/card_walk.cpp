#include "dump/card_walk.h"

#include <dirent.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <memory>
#include <system_error>

#include "book/paths.h"
#include "dump/file_kind.h"
#include "dump/open_file.h"
#include "dump/plain_letters.h"
#include "errors.h"

namespace stripbook::dump {

namespace {

constexpr int folder_flags = O_RDONLY | O_DIRECTORY | O_NONBLOCK;

std::string printable(const std::filesystem::path& path) {
    return book::printable_name(path.string());
}

std::string reason_text(int reason) {
    return std::generic_category().message(reason);
}

// Every step is taken from the open folder and without following links, so that swapping a folder for a link
// while the walk goes on leads nowhere.
class Walker {
  public:
    Walker(const std::filesystem::path& card, const WalkLimits& limits) : card_(card), limits_(limits) {}

    CardWalk walk(OpenFile top) {
        walk_folder(std::move(top), "", 0);
        std::sort(found_.files.begin(), found_.files.end(),
                  [](const CardEntry& a, const CardEntry& b) { return a.name < b.name; });
        std::sort(found_.left_out.begin(), found_.left_out.end());
        return std::move(found_);
    }

  private:
    void walk_folder(OpenFile folder, const std::string& prefix, int depth) {
        const std::unique_ptr<DIR, int (*)(DIR*)> open(fdopendir(folder.get()), closedir);
        if (!open) {
            unreadable(prefix, reason_text(errno));
            return;
        }
        const int descriptor = folder.release();  // closedir closes it
        for (;;) {
            errno = 0;
            const dirent* entry = readdir(open.get());
            if (entry == nullptr) {
                break;
            }
            const std::string name = entry->d_name;
            if (name != "." && name != "..") {
                take_entry(descriptor, name, prefix, depth);
            }
        }
        if (errno != 0) {
            unreadable(prefix, reason_text(errno));
        }
    }

    void take_entry(int folder, const std::string& name, const std::string& prefix, int depth) {
        const std::string whole = prefix + name;
        struct stat facts {};
        if (fstatat(folder, name.c_str(), &facts, AT_SYMLINK_NOFOLLOW) != 0) {
            unreadable(whole, reason_text(errno));
        } else if (S_ISDIR(facts.st_mode)) {
            take_folder(folder, name, whole, depth);
        } else if (S_ISREG(facts.st_mode)) {
            take_file(whole, facts);
        } else if (S_ISLNK(facts.st_mode)) {
            leave_out(whole, "a link to " + link_target(folder, name) + "; links are not followed");
        } else {
            leave_out(whole, "a pipe, socket or device, no file");
        }
    }

    void take_folder(int parent, const std::string& name, const std::string& whole, int depth) {
        if (depth == 0 && in_small_letters(name) == "dcim") {
            found_.has_dcim = true;
        }
        if (depth + 1 > limits_.folders_deep) {
            unreadable(whole, fmt::format("more than {} folders deep", limits_.folders_deep));
            return;
        }
        OpenFile folder(open_quietly(parent, name.c_str(), folder_flags | O_NOFOLLOW));
        if (folder.get() < 0) {
            unreadable(whole, reason_text(errno));
            return;
        }
        walk_folder(std::move(folder), whole + "/", depth + 1);
    }

    void take_file(const std::string& whole, const struct stat& facts) {
        if (found_.files.size() == limits_.files) {
            throw WrongUse(fmt::format(
                "\"{}\" holds more than {} files and is no camera card; give the folder of one card",
                printable(card_), limits_.files));
        }
        CardEntry entry;
        entry.name = whole;
        entry.bytes = static_cast<std::uint64_t>(facts.st_size);
        entry.modified_seconds =
            static_cast<double>(facts.st_mtim.tv_sec) + static_cast<double>(facts.st_mtim.tv_nsec) * 1e-9;
        entry.kind = kind_by_name(whole);
        dcf_numbers(whole, entry.dcf_directory, entry.dcf_counter);
        found_.files.push_back(std::move(entry));
    }

    static std::string link_target(int folder, const std::string& name) {
        std::array<char, 4096> target{};
        const ssize_t length = readlinkat(folder, name.c_str(), target.data(), target.size());
        if (length < 0) {
            return "somewhere unreadable";
        }
        return "\"" + book::printable_name(std::string(target.data(), static_cast<std::size_t>(length))) +
               "\"";
    }

    void leave_out(const std::string& whole, const std::string& why) {
        found_.left_out.push_back(book::printable_name(whole) + ": " + why);
    }

    void unreadable(const std::string& whole, const std::string& why) {
        const bool top = whole.empty();
        found_.left_out.push_back((top ? printable(card_) : book::printable_name(whole)) +
                                  ": cannot be read: " + why);
        found_.something_unreadable = true;
    }

    const std::filesystem::path& card_;
    const WalkLimits& limits_;
    CardWalk found_;
};

OpenFile open_card(const std::filesystem::path& card) {
    struct stat facts {};
    if (stat(card.c_str(), &facts) != 0) {
        if (errno == ENOENT || errno == ENOTDIR || errno == ELOOP) {
            throw WrongUse(fmt::format("there is no folder \"{}\"; is the card in?", printable(card)));
        }
        throw FileError("cannot read the card", card, errno);
    }
    if (!S_ISDIR(facts.st_mode)) {
        throw WrongUse(
            fmt::format("\"{}\" is no folder; give the folder where the card is mounted", printable(card)));
    }
    OpenFile top(open_quietly(AT_FDCWD, card.c_str(), folder_flags));
    if (top.get() < 0) {
        throw FileError("cannot read the card", card, errno);
    }
    return top;
}

void refuse_the_book(const std::filesystem::path& card, const std::filesystem::path& book_folder) {
    if (is_inside(card, book_folder)) {
        throw WrongUse(fmt::format("\"{}\" lies inside the job book itself; give the folder of a camera card",
                                   printable(card)));
    }
    if (is_inside(book_folder, card)) {
        throw WrongUse(fmt::format("\"{}\" holds the job book itself; give the folder of a camera card",
                                   printable(card)));
    }
}

}  // namespace

bool is_inside(const std::filesystem::path& inner, const std::filesystem::path& outer) {
    std::error_code ignored;
    const auto in = std::filesystem::weakly_canonical(inner, ignored);
    const auto out = std::filesystem::weakly_canonical(outer, ignored);
    if (in.empty() || out.empty()) {
        return false;  // a name that leads nowhere, for example round in links
    }
    const auto [out_end, in_end] = std::mismatch(out.begin(), out.end(), in.begin(), in.end());
    // A name given with a slash at its end has an empty last component.
    return out_end == out.end() || (out_end->empty() && std::next(out_end) == out.end());
}

CardWalk walk_card(const std::filesystem::path& card, const std::filesystem::path& book_folder,
                   const WalkLimits& limits) {
    OpenFile top = open_card(card);
    refuse_the_book(card, book_folder);
    return Walker(card, limits).walk(std::move(top));
}

}  // namespace stripbook::dump
