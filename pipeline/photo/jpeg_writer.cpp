#include "photo/jpeg_writer.h"

#include <new>
#include <stdexcept>

#include "photo/jpeg_session.h"

namespace stripbook::photo {

namespace {

void write_profile(JpegWriter& writer, const std::string& profile) {
    if (!profile.empty()) {
        jpeg_write_icc_profile(&writer.info, reinterpret_cast<const JOCTET*>(profile.data()),
                               static_cast<unsigned>(profile.size()));
    }
}

// Sets the jump: plain values only.
bool compress(JpegWriter& writer, const cv::Mat& pixels, int quality, const std::string& profile) {
    if (setjmp(writer.report.jump) != 0) {
        return false;
    }
    writer.open();
    writer.info.image_width = static_cast<JDIMENSION>(pixels.cols);
    writer.info.image_height = static_cast<JDIMENSION>(pixels.rows);
    writer.info.input_components = pixels.channels();
    writer.info.in_color_space = pixels.channels() == 1 ? JCS_GRAYSCALE : JCS_EXT_BGR;
    jpeg_set_defaults(&writer.info);
    jpeg_set_quality(&writer.info, quality, TRUE);
    writer.info.optimize_coding = TRUE;
    jpeg_start_compress(&writer.info, TRUE);
    write_profile(writer, profile);
    while (writer.info.next_scanline < writer.info.image_height) {
        auto* row = const_cast<JSAMPROW>(pixels.ptr(static_cast<int>(writer.info.next_scanline)));
        jpeg_write_scanlines(&writer.info, &row, 1);
    }
    jpeg_finish_compress(&writer.info);
    return true;
}

// Both ends can fail, so both jumps lead here: plain values only.
bool copy_coefficients(JpegReader& reader, JpegWriter& writer, const std::string& profile) {
    if (setjmp(reader.report.jump) != 0) {
        return false;
    }
    if (setjmp(writer.report.jump) != 0) {
        return false;
    }
    jvirt_barray_ptr* coefficients = jpeg_read_coefficients(&reader.info);
    writer.open();
    jpeg_copy_critical_parameters(&reader.info, &writer.info);
    writer.info.optimize_coding = TRUE;
    jpeg_write_coefficients(&writer.info, coefficients);
    write_profile(writer, profile);
    jpeg_finish_compress(&writer.info);
    jpeg_finish_decompress(&reader.info);
    return true;
}

void throw_if_out_of_memory(bool out_of_memory) {
    if (out_of_memory) {
        throw std::bad_alloc();
    }
}

}  // namespace

std::string write_jpeg(const cv::Mat& pixels, int quality, const std::string& profile) {
    JpegWriter writer;
    const bool written = compress(writer, pixels, quality, profile);
    throw_if_out_of_memory(writer.report.out_of_memory);
    if (!written) {
        throw std::logic_error("libjpeg refused pixels to compress");
    }
    return std::move(writer.written);
}

std::optional<CopiedJpeg> copy_jpeg(std::string_view file_bytes, cv::Size stored,
                                    const std::string& profile) {
    JpegReader reader(file_bytes);
    const bool readable = reader.read_head(false);
    throw_if_out_of_memory(reader.report.out_of_memory);
    const bool of_that_size = static_cast<int>(reader.info.image_width) == stored.width &&
                              static_cast<int>(reader.info.image_height) == stored.height;
    const bool of_that_kind =
        reader.info.jpeg_color_space == JCS_GRAYSCALE || reader.info.jpeg_color_space == JCS_YCbCr;
    const bool copyable = readable && of_that_size && of_that_kind;
    if (!copyable) {
        return std::nullopt;
    }
    JpegWriter writer;
    const bool copied = copy_coefficients(reader, writer, profile);
    throw_if_out_of_memory(reader.report.out_of_memory || writer.report.out_of_memory);
    if (!copied) {
        return std::nullopt;
    }
    return CopiedJpeg{std::move(writer.written), reader.report.damaged};
}

std::string jpeg_profile(std::string_view file_bytes) {
    JpegReader reader(file_bytes);
    const bool readable = reader.read_head(true);
    throw_if_out_of_memory(reader.report.out_of_memory);
    return readable ? reader.profile() : std::string();
}

}  // namespace stripbook::photo
