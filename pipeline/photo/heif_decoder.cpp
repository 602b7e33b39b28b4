#include "photo/heif_decoder.h"

#include <libheif/heif.h>

#include <memory>
#include <new>
#include <opencv2/imgproc.hpp>
#include <optional>

#include "photo/file_numbers.h"
#include "photo/on_white.h"

namespace stripbook::photo {

namespace {

struct Free {
    void operator()(heif_context* context) const { heif_context_free(context); }
    void operator()(heif_image_handle* handle) const { heif_image_handle_release(handle); }
    void operator()(heif_image* image) const { heif_image_release(image); }
    void operator()(heif_decoding_options* options) const { heif_decoding_options_free(options); }
};
template <typename T>
using Owner = std::unique_ptr<T, Free>;

bool succeeded(const heif_error& error) {
    if (error.code == heif_error_Memory_allocation_error &&
        error.subcode != heif_suberror_Security_limit_exceeded) {
        throw std::bad_alloc();
    }
    return error.code == heif_error_Ok;
}

struct Opened {
    Owner<heif_context> context;
    Owner<heif_image_handle> primary;
};

std::optional<Opened> open_primary(std::string_view file_bytes) {
    Opened opened;
    opened.context.reset(heif_context_alloc());
    if (opened.context == nullptr) {
        throw std::bad_alloc();
    }
    // Tiles are decoded one after the other: the workers are what keeps the cores busy.
    heif_context_set_max_decoding_threads(opened.context.get(), 0);
    heif_image_handle* primary = nullptr;
    if (!succeeded(heif_context_read_from_memory_without_copy(opened.context.get(), file_bytes.data(),
                                                              file_bytes.size(), nullptr)) ||
        !succeeded(heif_context_get_primary_image_handle(opened.context.get(), &primary))) {
        return std::nullopt;
    }
    opened.primary.reset(primary);
    return opened;
}

Owner<heif_image> decoded(const heif_image_handle* handle, bool alpha) {
    const Owner<heif_decoding_options> options(heif_decoding_options_alloc());
    if (options == nullptr) {
        throw std::bad_alloc();
    }
    options->ignore_transformations = 1;  // else the library crops, turns and mirrors
    options->convert_hdr_to_8bit = 1;
    heif_image* image = nullptr;
    const bool good = succeeded(
        heif_decode_image(handle, &image, heif_colorspace_RGB,
                          alpha ? heif_chroma_interleaved_RGBA : heif_chroma_interleaved_RGB, options.get()));
    Owner<heif_image> owner(image);
    return good ? std::move(owner) : nullptr;
}

}  // namespace

cv::Mat decode_heif(std::string_view file_bytes, const HeifPicture& picture) {
    const auto opened = open_primary(file_bytes);
    if (!opened) {
        return {};
    }
    const bool alpha = heif_image_handle_has_alpha_channel(opened->primary.get()) != 0;
    const Owner<heif_image> image = decoded(opened->primary.get(), alpha);
    int step = 0;
    const unsigned char* pixels =
        image ? heif_image_get_plane_readonly(image.get(), heif_channel_interleaved, &step) : nullptr;
    if (pixels == nullptr ||
        cv::Size(heif_image_get_width(image.get(), heif_channel_interleaved),
                 heif_image_get_height(image.get(), heif_channel_interleaved)) != picture.coded) {
        return {};
    }
    const cv::Mat rgb(picture.coded, alpha ? CV_8UC4 : CV_8UC3, const_cast<unsigned char*>(pixels),
                      static_cast<std::size_t>(step));
    cv::Mat bgr;
    cv::cvtColor(rgb(picture.stored), bgr, alpha ? cv::COLOR_RGBA2BGRA : cv::COLOR_RGB2BGR);
    const bool multiplied = heif_image_handle_is_premultiplied_alpha(opened->primary.get()) != 0;
    return alpha ? on_white(bgr, multiplied) : bgr;
}

std::string heif_exif(std::string_view file_bytes) {
    const auto opened = open_primary(file_bytes);
    heif_item_id block = 0;
    if (!opened ||
        heif_image_handle_get_list_of_metadata_block_IDs(opened->primary.get(), "Exif", &block, 1) < 1) {
        return {};
    }
    std::string bytes(heif_image_handle_get_metadata_size(opened->primary.get(), block), '\0');
    if (!succeeded(heif_image_handle_get_metadata(opened->primary.get(), block, bytes.data()))) {
        return {};
    }
    // ISO/IEC 23008-12, annex A: four bytes say how far behind them the TIFF header lies.
    const auto skipped = FileNumbers(bytes, true).at(0, 4);
    return skipped && bytes.size() - 4 > *skipped ? bytes.substr(4 + *skipped) : std::string();
}

std::string heif_profile(std::string_view file_bytes) {
    const auto opened = open_primary(file_bytes);
    if (!opened) {
        return {};
    }
    const auto type = heif_image_handle_get_color_profile_type(opened->primary.get());
    if (type != heif_color_profile_type_rICC && type != heif_color_profile_type_prof) {
        return {};
    }
    std::string profile(heif_image_handle_get_raw_color_profile_size(opened->primary.get()), '\0');
    return succeeded(heif_image_handle_get_raw_color_profile(opened->primary.get(), profile.data()))
               ? profile
               : std::string();
}

}  // namespace stripbook::photo
