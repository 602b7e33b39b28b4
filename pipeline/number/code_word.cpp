#include "number/code_word.h"

#include <openssl/evp.h>

#include <algorithm>
#include <cstdint>
#include <stdexcept>
#include <string>

namespace stripbook::number {

namespace {

int in_field(std::int64_t value) {
    return static_cast<int>(((value % field_size) + field_size) % field_size);
}

// a^(p-2) = 1/a in a field of prime size p (Fermat).
int inverse(int a) {
    std::int64_t result = 1;
    std::int64_t base = in_field(a);
    for (int e = field_size - 2; e > 0; e >>= 1) {
        if ((e & 1) != 0) {
            result = result * base % field_size;
        }
        base = base * base % field_size;
    }
    return static_cast<int>(result);
}

int salt(const BookCode& book, int corner) {
    std::string message = book.text();
    message.push_back(static_cast<char>(corner));
    std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
    unsigned int length = 0;
    if (EVP_Digest(message.data(), message.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1) {
        throw std::runtime_error("SHA-256 is not available");
    }
    const std::uint32_t word = (static_cast<std::uint32_t>(digest[0]) << 24) |
                               (static_cast<std::uint32_t>(digest[1]) << 16) |
                               (static_cast<std::uint32_t>(digest[2]) << 8) | digest[3];
    return static_cast<int>(word % field_size);
}

Identities salts_of(const BookCode& book) {
    return {salt(book, 0), salt(book, 1), salt(book, 2), salt(book, 3)};
}

Identities with_salts(int serial, const Identities& salts) {
    const int m0 = serial / field_size;
    const int m1 = serial % field_size;
    Identities ids{};
    for (int i = 0; i < 4; ++i) {
        ids[static_cast<std::size_t>(i)] =
            in_field(m0 + static_cast<std::int64_t>(m1) * (i + 1) + salts[static_cast<std::size_t>(i)]);
    }
    return ids;
}

// The serial that two corners give, or nothing when it is out of range.
std::optional<int> serial_from(std::size_t i, int id_i, std::size_t j, int id_j, const Identities& salts) {
    const int value_i = in_field(id_i - salts[i]);
    const int value_j = in_field(id_j - salts[j]);
    const int m1 = in_field(static_cast<std::int64_t>(value_j - value_i) *
                            inverse(static_cast<int>(j) - static_cast<int>(i)));
    const int m0 = in_field(value_i - static_cast<std::int64_t>(m1) * (static_cast<int>(i) + 1));
    const int serial = m0 * field_size + m1;
    if (serial < 1 || serial > highest_serial) {
        return std::nullopt;
    }
    return serial;
}

}  // namespace

Identities identities_of(const TagNumber& tag) {
    return with_salts(tag.serial(), salts_of(tag.book()));
}

std::vector<CodeWordFit> fits_of(const BookCode& book, const SeenIdentities& seen) {
    const Identities salts = salts_of(book);
    std::vector<CodeWordFit> fits;
    for (std::size_t i = 0; i < 4; ++i) {
        for (std::size_t j = i + 1; j < 4; ++j) {
            if (!seen[i] || !seen[j]) {
                continue;
            }
            const auto serial = serial_from(i, *seen[i], j, *seen[j], salts);
            const auto same = [&](const CodeWordFit& f) { return f.tag.serial() == *serial; };
            if (!serial || std::any_of(fits.begin(), fits.end(), same)) {
                continue;
            }
            CodeWordFit fit{TagNumber(book, *serial)};
            const Identities expected = with_salts(*serial, salts);
            for (std::size_t k = 0; k < 4; ++k) {
                if (seen[k]) {
                    (*seen[k] == expected[k] ? fit.agreeing : fit.disagreeing) += 1;
                }
            }
            fits.push_back(fit);
        }
    }
    std::stable_sort(fits.begin(), fits.end(),
                     [](const CodeWordFit& a, const CodeWordFit& b) { return a.agreeing > b.agreeing; });
    return fits;
}

SeenIdentities turned_by_half(const SeenIdentities& seen) {
    return {seen[2], seen[3], seen[0], seen[1]};
}

CodeWordReading read_code_word(const BookCode& book, const SeenIdentities& seen) {
    CodeWordReading reading;
    std::vector<CodeWordFit> all;
    int passing = 0;
    for (const bool turned : {false, true}) {
        for (const auto& fit : fits_of(book, turned ? turned_by_half(seen) : seen)) {
            all.push_back(fit);
            if (fit.agreeing >= 3 && fit.disagreeing == 0) {
                passing += 1;
                reading.confirmed = fit.tag;
                reading.turned = turned;
            }
        }
    }
    if (passing == 1) {
        return reading;
    }
    reading.confirmed.reset();
    reading.turned = false;
    std::stable_sort(all.begin(), all.end(),
                     [](const CodeWordFit& a, const CodeWordFit& b) { return a.agreeing > b.agreeing; });
    for (const auto& fit : all) {
        const bool listed = std::find(reading.suggestions.begin(), reading.suggestions.end(), fit.tag) !=
                            reading.suggestions.end();
        if (!listed) {
            reading.suggestions.push_back(fit.tag);
        }
    }
    return reading;
}

}  // namespace stripbook::number
