// The house stands: rooms include only rooms below them, SQL is spoken in one room, and nothing under
// pipeline/ prints.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "where.h"

namespace {

namespace fs = std::filesystem;

const fs::path pipeline = stripbook::test::source_folder() / "pipeline";

std::string text_of(const fs::path& file) {
    std::ifstream in(file);
    REQUIRE(in);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::vector<fs::path> sources() {
    std::vector<fs::path> files;
    for (const auto& entry : fs::recursive_directory_iterator(pipeline)) {
        if (entry.path().extension() == ".cpp" || entry.path().extension() == ".h") {
            files.push_back(entry.path());
        }
    }
    return files;
}

std::string room_of(const fs::path& file) {
    return fs::relative(file, pipeline).begin()->string();
}

// What pipeline/CMakeLists.txt declares, in its order: room name and the rooms it may include.
std::vector<std::pair<std::string, std::set<std::string>>> declared_layers() {
    std::istringstream in(text_of(stripbook::test::binary_folder() / "layers.txt"));
    std::vector<std::pair<std::string, std::set<std::string>>> layers;
    for (std::string line; std::getline(in, line);) {
        const auto colon = line.find(": ");
        REQUIRE(colon != std::string::npos);
        std::istringstream names(std::regex_replace(line.substr(colon + 2), std::regex(";"), " "));
        std::set<std::string> below;
        for (std::string name; names >> name;) {
            below.insert(name);
        }
        layers.emplace_back(line.substr(0, colon), below);
    }
    return layers;
}

}  // namespace

TEST_CASE("Every room depends only on rooms declared before it", "[layers]") {
    const auto layers = declared_layers();
    REQUIRE(layers.size() >= 10);
    std::set<std::string> before;
    for (const auto& [room, below] : layers) {
        for (const auto& name : below) {
            INFO(room << " needs " << name);
            CHECK(before.contains(name));
        }
        before.insert(room);
    }
}

TEST_CASE("No include points to a room that is not declared below", "[layers]") {
    std::map<std::string, std::set<std::string>> allowed;
    for (const auto& [room, below] : declared_layers()) {
        allowed[room] = below;
        allowed[room].insert(room);
    }
    const std::regex include("#include \"([a-z_]+)/[^\"]*\"");
    int seen = 0;
    for (const auto& file : sources()) {
        const std::string room = room_of(file);
        const std::string text = text_of(file);
        for (std::sregex_iterator it(text.begin(), text.end(), include), end; it != end; ++it) {
            INFO(fs::relative(file, pipeline).string() << " includes " << (*it)[1]);
            CHECK(allowed[room].contains((*it)[1]));
            ++seen;
        }
    }
    CHECK(seen > 50);
}

TEST_CASE("Only the room book speaks SQL, and nothing under pipeline/ prints to the terminal", "[layers]") {
    const std::regex sql("#include <(SQLiteCpp|sqlite3)");
    const std::regex prints("std::cout|std::cerr|std::clog|fmt::print|\\bprintf|\\bputs\\(|\\bperror\\(");
    for (const auto& file : sources()) {
        INFO(fs::relative(file, pipeline).string());
        const std::string text = text_of(file);
        CHECK((room_of(file) == "book" || !std::regex_search(text, sql)));
        CHECK_FALSE(std::regex_search(text, prints));
    }
}

TEST_CASE("No test's name holds a semicolon: CTest would split it in two that match nothing and pass",
          "[layers]") {
    const std::regex split("TEST_CASE\\(\\s*\"[^\"]*;");
    for (const auto& entry : fs::recursive_directory_iterator(stripbook::test::source_folder() / "tests")) {
        if (entry.path().extension() == ".cpp") {
            INFO(entry.path().string());
            CHECK_FALSE(std::regex_search(text_of(entry.path()), split));
        }
    }
}
