#include "photo/jpeg_session.h"

#include <jerror.h>

#include <cstdlib>
#include <memory>
#include <new>

namespace stripbook::photo {

namespace {

// A progressive file may hold any number of scans over the whole picture, each a few bytes long: decoding
// would take hours. Cameras and programs write about ten (common practice, no source).
constexpr int most_scans = 500;

JpegReport& report_of(j_common_ptr info) {
    return *reinterpret_cast<JpegReport*>(info->err);
}

[[noreturn]] void on_fatal(j_common_ptr info) {
    JpegReport& report = report_of(info);
    report.out_of_memory = report.out_of_memory || info->err->msg_code == JERR_OUT_OF_MEMORY;
    std::longjmp(report.jump, 1);
}

// Warnings about marker segments that do not touch the pixels; all others mean damage.
bool is_harmless(int message) {
    return message == JWRN_JFIF_MAJOR || message == JWRN_ADOBE_XFORM || message == JWRN_BOGUS_ICC;
}

void on_message(j_common_ptr info, int level) {
    if (level < 0 && !is_harmless(info->err->msg_code)) {
        report_of(info).damaged = true;
    }
}

void stay_silent(j_common_ptr /*info*/) {}

void set_up(JpegReport& report) {
    jpeg_std_error(&report.base);
    report.base.error_exit = on_fatal;
    report.base.emit_message = on_message;
    report.base.output_message = stay_silent;
}

void on_progress(j_common_ptr info) {
    if (info->is_decompressor != 0 &&
        reinterpret_cast<j_decompress_ptr>(info)->input_scan_number > most_scans) {
        on_fatal(info);
    }
}

}  // namespace

JpegReader::JpegReader(std::string_view file_bytes) : file_bytes_(file_bytes) {
    set_up(report);
    info.err = &report.base;
}

JpegReader::~JpegReader() {
    jpeg_destroy_decompress(&info);
}

bool JpegReader::read_head(bool keep_profile) {
    if (setjmp(report.jump) != 0) {
        return false;
    }
    jpeg_create_decompress(&info);
    progress_.progress_monitor = on_progress;
    info.progress = &progress_;
    jpeg_mem_src(&info, reinterpret_cast<const unsigned char*>(file_bytes_.data()), file_bytes_.size());
    if (keep_profile) {
        jpeg_save_markers(&info, JPEG_APP0 + 2, 0xFFFF);
    }
    return jpeg_read_header(&info, TRUE) == JPEG_HEADER_OK;
}

bool JpegReader::read_profile(JOCTET** profile, unsigned* length) {
    if (setjmp(report.jump) != 0) {
        return false;
    }
    return jpeg_read_icc_profile(&info, profile, length) != 0;
}

std::string JpegReader::profile() {
    JOCTET* bytes = nullptr;
    unsigned length = 0;
    if (!read_profile(&bytes, &length)) {
        return {};
    }
    const std::unique_ptr<JOCTET, decltype(&std::free)> owner(bytes, std::free);
    return {reinterpret_cast<const char*>(bytes), length};
}

JpegWriter::JpegWriter() {
    set_up(report);
    info.err = &report.base;
    info.client_data = this;
    destination_.init_destination = start;
    destination_.empty_output_buffer = next_block;
    destination_.term_destination = finish;
}

JpegWriter::~JpegWriter() {
    jpeg_destroy_compress(&info);
}

void JpegWriter::open() {
    jpeg_create_compress(&info);
    info.dest = &destination_;
}

void JpegWriter::take(std::size_t bytes) {
    try {
        written.append(reinterpret_cast<const char*>(block_.data()), bytes);
    } catch (const std::bad_alloc&) {
        report.out_of_memory = true;
    }
    destination_.next_output_byte = block_.data();
    destination_.free_in_buffer = block_.size();
}

void JpegWriter::start(j_compress_ptr info) {
    static_cast<JpegWriter*>(info->client_data)->take(0);
}

boolean JpegWriter::next_block(j_compress_ptr info) {
    auto* writer = static_cast<JpegWriter*>(info->client_data);
    writer->take(writer->block_.size());
    if (writer->report.out_of_memory) {
        on_fatal(reinterpret_cast<j_common_ptr>(info));
    }
    return TRUE;
}

void JpegWriter::finish(j_compress_ptr info) {
    auto* writer = static_cast<JpegWriter*>(info->client_data);
    writer->take(writer->block_.size() - writer->destination_.free_in_buffer);
    if (writer->report.out_of_memory) {
        on_fatal(reinterpret_cast<j_common_ptr>(info));
    }
}

}  // namespace stripbook::photo
