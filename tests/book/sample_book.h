// A small book to test with, and the sqlite3 command line tool as an independent eye on what was written.
#pragma once

#include <catch2/catch.hpp>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "book/book.h"
#include "book/originals.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/photos.h"
#include "scratch_folder.h"

namespace stripbook::test {

inline number::BookCode pet() {
    return number::BookCode::from_typed("PET");
}

inline number::TagNumber tag(int serial) {
    return {pet(), serial};
}

/// What a command prints, without the last newline. Fails the test when the command fails.
inline std::string output_of(const std::string& command) {
    FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string out;
    std::array<char, 4096> piece{};
    for (std::size_t got = 0; (got = fread(piece.data(), 1, piece.size(), pipe)) > 0;) {
        out.append(piece.data(), got);
    }
    INFO(command << "\n" << out);
    REQUIRE(pclose(pipe) == 0);
    if (!out.empty() && out.back() == '\n') {
        out.pop_back();
    }
    return out;
}

/// What sqlite3 says about a file, columns parted by "|". Folder names of these tests hold no quotation
/// marks.
inline std::string sqlite3_of(const std::filesystem::path& file, const std::string& sql) {
    return output_of("sqlite3 -batch \"" + file.string() + "\" \"" + sql + "\" 2>&1");
}

inline std::string bytes_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

inline void write_file(const std::filesystem::path& file, const std::string& bytes) {
    std::ofstream(file, std::ios::binary) << bytes;
}

/// The message of what `work` throws, or "nothing thrown".
template <typename Kind, typename Work>
std::string message_of(const Work& work) {
    try {
        work();
    } catch (const Kind& error) {
        return error.what();
    }
    return "nothing thrown";
}

inline book::Book new_book(const std::filesystem::path& folder) {
    return book::Book::start(folder, pet(), "Inspection railcar Petrel", "Ana");
}

/// Sixty-four hexadecimal digits, another for each number.
inline std::string sum_of(int number) {
    std::string digits = std::to_string(number);
    return std::string(64 - digits.size(), 'a') + digits;
}

/// A photo taken `minutes` after 2026-03-20 09:00 by the card's file time. Photos are numbered from 1.
inline book::PhotoNumber add_photo(book::Book& book, book::DumpId dump, int number, double minutes = 0) {
    constexpr double nine_o_clock_s = 1773997200;  // date -u -d '2026-03-20 09:00' +%s
    const std::string name = "DCIM/101FERRO/FVA_" + std::to_string(1000 + number) + ".JPG";
    const auto original =
        book::add_original(book, dump, {name, 1000, nine_o_clock_s + 60 * minutes, 101, 1000 + number},
                           sum_of(number), book::FileKind::photo, book::dump_folder(dump.value) + "/" + name);
    return book::photo_of_original(book, original.id)->number;
}

}  // namespace stripbook::test
