#include "dump/sha256.h"

#include <openssl/evp.h>

#include <array>
#include <stdexcept>

namespace stripbook::dump {

namespace {

struct FreeContext {
    void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
};

// These calls fail only without memory or when OpenSSL itself is broken, which no person can mend from a
// message.
void must(int worked) {
    if (worked != 1) {
        throw std::runtime_error("OpenSSL could not work out a SHA-256 sum");
    }
}

}  // namespace

struct Sha256::Inside {
    std::unique_ptr<EVP_MD_CTX, FreeContext> context{EVP_MD_CTX_new()};
};

Sha256::Sha256() : inside_(std::make_unique<Inside>()) {
    must(inside_->context ? 1 : 0);
    must(EVP_DigestInit_ex(inside_->context.get(), EVP_sha256(), nullptr));
}

Sha256::Sha256(Sha256&&) noexcept = default;
Sha256& Sha256::operator=(Sha256&&) noexcept = default;
Sha256::~Sha256() = default;

void Sha256::update(std::string_view bytes) {
    must(EVP_DigestUpdate(inside_->context.get(), bytes.data(), bytes.size()));
}

std::string Sha256::hex() {
    std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
    unsigned int length = 0;
    must(EVP_DigestFinal_ex(inside_->context.get(), digest.data(), &length));
    constexpr std::string_view digits = "0123456789abcdef";
    std::string text;
    for (std::size_t i = 0; i < length; ++i) {
        text += digits[digest[i] >> 4U];
        text += digits[digest[i] & 15U];
    }
    return text;
}

}  // namespace stripbook::dump
