// Other people's programs, asked about our files: qpdf, poppler's tools, zbarimg, exiv2. And the pages as
// pictures.
#pragma once

#include <filesystem>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace stripbook::test {

struct ToolAnswer {
    int status = -1;
    std::string output;
};

/// Runs a program with these arguments; its messages are dropped.
ToolAnswer run_tool(const std::vector<std::string>& words);

/// The words of a PDF as a reader would select them; of one page where `page` is not 0.
std::string words_of(const std::filesystem::path& pdf, int page = 0);

/// Every page, or the first `most_pages`, as a grey picture.
std::vector<cv::Mat> pages_of(const std::filesystem::path& pdf, int dots_per_inch, int most_pages = 0);

int page_count(const std::filesystem::path& pdf);

/// One picture in a PDF, as pdfimages lists it.
struct ListedPicture {
    int page = 0;
    int width_px = 0;
};
std::vector<ListedPicture> pictures_of(const std::filesystem::path& pdf);

/// One bookmark, or one link on a page, as poppler's pdftohtml sees them. Pages count from 1.
struct Pointer {
    int level = 0;  ///< of a bookmark, from 0
    int page = 0;   ///< that a link stands on
    int to_page = 0;
    std::string words;
};
std::vector<Pointer> bookmarks_of(const std::filesystem::path& pdf);
std::vector<Pointer> links_of(const std::filesystem::path& pdf);

/// What Apache PDFBox finds against PDF/A-1b (its preflight); empty: the file is valid.
std::string faults_against_pdf_a(const std::filesystem::path& pdf);

void write_file(const std::filesystem::path& file, const std::string& bytes);
std::string read_file(const std::filesystem::path& file);

}  // namespace stripbook::test
