#include "print/outside_tools.h"

#include <sys/wait.h>

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <opencv2/imgcodecs.hpp>
#include <regex>
#include <sstream>

namespace stripbook::test {

ToolAnswer run_tool(const std::vector<std::string>& words) {
    std::string command;
    for (const std::string& word : words) {
        std::string quoted;
        for (const char c : word) {
            quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
        }
        command += "'" + quoted + "' ";
    }
    FILE* pipe = popen((command + "2>/dev/null").c_str(), "r");
    REQUIRE(pipe != nullptr);
    ToolAnswer answer;
    std::array<char, 4096> part{};
    std::size_t got = 0;
    while ((got = std::fread(part.data(), 1, part.size(), pipe)) > 0) {
        answer.output.append(part.data(), got);
    }
    const int status = pclose(pipe);
    answer.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    INFO(command);
    REQUIRE(answer.status != 127);  // the tool is not installed
    return answer;
}

std::string words_of(const std::filesystem::path& pdf, int page) {
    std::vector<std::string> command{"pdftotext"};
    if (page > 0) {
        command.insert(command.end(), {"-f", std::to_string(page), "-l", std::to_string(page)});
    }
    command.insert(command.end(), {pdf.string(), "-"});
    const ToolAnswer answer = run_tool(command);
    REQUIRE(answer.status == 0);
    return answer.output;
}

std::vector<cv::Mat> pages_of(const std::filesystem::path& pdf, int dots_per_inch, int most_pages) {
    const int count = page_count(pdf);
    const int last = most_pages == 0 ? count : std::min(count, most_pages);
    const std::string stem = pdf.string() + ".page";
    const ToolAnswer answer = run_tool({"pdftoppm", "-r", std::to_string(dots_per_inch), "-gray", "-l",
                                        std::to_string(last), pdf.string(), stem});
    REQUIRE(answer.status == 0);
    std::vector<cv::Mat> pages;
    for (int page = 1; page <= last; ++page) {
        // pdftoppm writes as many digits as the document's last page has.
        std::string number = std::to_string(page);
        number.insert(0, std::to_string(count).size() - number.size(), '0');
        const std::string file = stem + "-" + number + ".pgm";
        pages.push_back(cv::imread(file, cv::IMREAD_GRAYSCALE));
        REQUIRE_FALSE(pages.back().empty());
        std::filesystem::remove(file);
    }
    return pages;
}

int page_count(const std::filesystem::path& pdf) {
    const std::string facts = run_tool({"pdfinfo", pdf.string()}).output;
    const auto at = facts.find("Pages:");
    REQUIRE(at != std::string::npos);
    return std::stoi(facts.substr(at + 6));
}

std::vector<ListedPicture> pictures_of(const std::filesystem::path& pdf) {
    std::istringstream lines(run_tool({"pdfimages", "-list", pdf.string()}).output);
    std::vector<ListedPicture> pictures;
    std::string line;
    std::getline(lines, line);
    std::getline(lines, line);  // two lines of headings
    while (std::getline(lines, line)) {
        std::istringstream cells(line);
        ListedPicture picture;
        int number = 0;
        std::string kind;
        cells >> picture.page >> number >> kind >> picture.width_px;
        REQUIRE(cells);
        pictures.push_back(picture);
    }
    return pictures;
}

namespace {

std::string as_xml(const std::filesystem::path& pdf) {
    const ToolAnswer answer = run_tool({"pdftohtml", "-xml", "-i", "-stdout", pdf.string()});
    REQUIRE(answer.status == 0);
    return answer.output;
}

}  // namespace

std::vector<Pointer> bookmarks_of(const std::filesystem::path& pdf) {
    const std::string xml = as_xml(pdf);
    const std::regex piece(R"re(<outline>|</outline>|<item page="(\d+)">([^<]*)</item>)re");
    std::vector<Pointer> bookmarks;
    int level = -1;
    for (std::sregex_iterator it(xml.begin(), xml.end(), piece), end; it != end; ++it) {
        if (it->str() == "<outline>") {
            ++level;
        } else if (it->str() == "</outline>") {
            --level;
        } else {
            bookmarks.push_back({level, 0, std::stoi((*it)[1]), (*it)[2]});
        }
    }
    return bookmarks;
}

std::vector<Pointer> links_of(const std::filesystem::path& pdf) {
    const std::string xml = as_xml(pdf);
    const std::regex piece(R"re(<page number="(\d+)"|<a href="[^"]*#(\d+)">([^\n]*)</a>)re");
    std::vector<Pointer> links;
    int page = 0;
    for (std::sregex_iterator it(xml.begin(), xml.end(), piece), end; it != end; ++it) {
        if ((*it)[1].matched) {
            page = std::stoi((*it)[1]);
        } else {
            links.push_back({0, page, std::stoi((*it)[2]), (*it)[3]});
        }
    }
    return links;
}

std::string faults_against_pdf_a(const std::filesystem::path& pdf) {
    std::string jars;
    for (const char* jar : {"preflight", "pdfbox2", "fontbox2", "xmpbox", "commons-logging", "commons-io",
                            "javax.activation", "jaxb-api"}) {
        jars += std::string("/usr/share/java/") + jar + ".jar:";
    }
    const ToolAnswer answer = run_tool(
        {"java", "-Xmx512m", "-cp", jars, "org.apache.pdfbox.preflight.Validator_A1b", pdf.string()});
    if (answer.output.find("is a valid PDF/A-1b file") != std::string::npos) {
        return "";
    }
    return answer.output.empty() ? "the validator gave up" : answer.output;
}

void write_file(const std::filesystem::path& file, const std::string& bytes) {
    std::ofstream out(file, std::ios::binary);
    out << bytes;
    REQUIRE(out.flush());
}

std::string read_file(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    REQUIRE(in);
    return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace stripbook::test
