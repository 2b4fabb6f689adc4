// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/keys.h"

#include <sodium.h>

#include <vector>

#include "catalog/book/passphrase.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

using Bytes = std::vector<unsigned char>;

void start() {
  if (sodium_init() < 0) throw Fault{Message{"book.no-crypto", {}}};
}

std::string hex(const unsigned char* data, std::size_t size) {
  std::string out(2 * size + 1, '\0');
  sodium_bin2hex(out.data(), out.size(), data, size);
  out.pop_back();
  return out;
}

// Empty for what is not hex of that many bytes, in small letters: one value has one form.
Bytes bytes(const std::string& text, std::size_t size) {
  Bytes out(size);
  std::size_t got = 0;
  const char* end = nullptr;
  if (text.size() != 2 * size || text.find_first_not_of("0123456789abcdef") != std::string::npos ||
      sodium_hex2bin(out.data(), size, text.data(), text.size(), nullptr, &got, &end) != 0 || got != size)
    return {};
  return out;
}

constexpr std::size_t salt_size = crypto_pwhash_SALTBYTES, nonce_size = crypto_secretbox_NONCEBYTES,
                      sealed_size = crypto_sign_SECRETKEYBYTES + crypto_secretbox_MACBYTES,
                      whole_size = salt_size + nonce_size + sealed_size;

// A key of the passphrase; wiped by its owner.
void derive(std::array<unsigned char, crypto_secretbox_KEYBYTES>& key, const std::string& passphrase,
            const unsigned char* salt) {
  if (crypto_pwhash(key.data(), key.size(), passphrase.data(), passphrase.size(), salt,
                    crypto_pwhash_OPSLIMIT_INTERACTIVE, crypto_pwhash_MEMLIMIT_INTERACTIVE,
                    crypto_pwhash_ALG_ARGON2ID13) != 0)
    throw Fault{Message{"book.no-crypto", {}}};
}

using Secret = std::array<unsigned char, crypto_sign_SECRETKEYBYTES>;

// A sealed key signs these bytes of itself, so that another in its place shows without any passphrase.
std::string proof_of(const std::string& sealed) { return "seamwright-sealed-1\n" + sealed; }

// Salt, nonce, the sealed secret, and its own signature over these, hex.
std::string seal(const Secret& secret, const std::string& passphrase) {
  if (is_weak_passphrase(passphrase)) throw Fault{Message{"book.weak-passphrase", {}}};
  std::array<unsigned char, crypto_secretbox_KEYBYTES> key{};
  Bytes whole(whole_size);
  randombytes_buf(whole.data(), salt_size + nonce_size);
  derive(key, passphrase, whole.data());
  crypto_secretbox_easy(whole.data() + salt_size + nonce_size, secret.data(), secret.size(),
                        whole.data() + salt_size, key.data());
  sodium_memzero(key.data(), key.size());
  const std::string sealed = hex(whole.data(), whole.size()), message = proof_of(sealed);
  std::array<unsigned char, crypto_sign_BYTES> proof{};
  crypto_sign_detached(proof.data(), nullptr, reinterpret_cast<const unsigned char*>(message.data()),
                       message.size(), secret.data());
  return sealed + hex(proof.data(), proof.size());
}

}  // namespace

KeyPair new_keys(const std::string& passphrase) {
  start();
  std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> open{};
  Secret secret{};
  crypto_sign_keypair(open.data(), secret.data());
  KeyPair keys{hex(open.data(), open.size()), ""};
  try {
    keys.sealed_hex = seal(secret, passphrase);
  } catch (const Fault&) {
    sodium_memzero(secret.data(), secret.size());
    throw;
  }
  sodium_memzero(secret.data(), secret.size());
  return keys;
}

OpenKey::OpenKey(const std::string& sealed_hex, const std::string& passphrase) {
  start();
  const Bytes whole = bytes(sealed_hex.substr(0, 2 * whole_size), whole_size);
  if (whole.empty()) throw Fault{Message{"book.bad-key", {}}};
  std::array<unsigned char, crypto_secretbox_KEYBYTES> key{};
  derive(key, passphrase, whole.data());
  sodium_mlock(secret_.data(), secret_.size());  // best effort: it may not be allowed
  const bool good = crypto_secretbox_open_easy(secret_.data(), whole.data() + salt_size + nonce_size,
                                               sealed_size, whole.data() + salt_size, key.data()) == 0;
  sodium_memzero(key.data(), key.size());
  if (!good) {
    sodium_munlock(secret_.data(), secret_.size());
    throw Fault{Message{"book.wrong-passphrase", {}}};
  }
  if (sealing_of(sealed_hex, public_hex()) == Sealing::broken) {
    sodium_munlock(secret_.data(), secret_.size());
    throw Fault{Message{"book.bad-key", {}}};
  }
}

Sealing sealing_of(const std::string& sealed_hex, const std::string& public_hex) {
  start();
  const std::string sealed = sealed_hex.substr(0, 2 * whole_size);
  if (bytes(sealed, whole_size).empty()) return Sealing::broken;
  if (sealed_hex.size() == sealed.size()) return Sealing::without_proof;
  return signature_holds(public_hex, proof_of(sealed), sealed_hex.substr(sealed.size())) ? Sealing::proven
                                                                                         : Sealing::broken;
}

OpenKey::~OpenKey() { sodium_munlock(secret_.data(), secret_.size()); }  // wipes as well

std::string OpenKey::sign(const std::string& message) const {
  std::array<unsigned char, crypto_sign_BYTES> signature{};
  crypto_sign_detached(signature.data(), nullptr, reinterpret_cast<const unsigned char*>(message.data()),
                       message.size(), secret_.data());
  return hex(signature.data(), signature.size());
}

std::string OpenKey::public_hex() const {
  std::array<unsigned char, crypto_sign_PUBLICKEYBYTES> open{};
  crypto_sign_ed25519_sk_to_pk(open.data(), secret_.data());
  return hex(open.data(), open.size());
}

std::string OpenKey::sealed(const std::string& passphrase) const { return seal(secret_, passphrase); }

bool signature_holds(const std::string& public_hex, const std::string& message,
                     const std::string& signature_hex) {
  start();
  const Bytes key = bytes(public_hex, crypto_sign_PUBLICKEYBYTES),
              signature = bytes(signature_hex, crypto_sign_BYTES);
  return !key.empty() && !signature.empty() &&
         crypto_sign_verify_detached(signature.data(), reinterpret_cast<const unsigned char*>(message.data()),
                                     message.size(), key.data()) == 0;
}

std::string random_hex(std::size_t size) {
  start();
  Bytes all(size);
  randombytes_buf(all.data(), all.size());
  return hex(all.data(), all.size());
}

}  // namespace seamwright::book
