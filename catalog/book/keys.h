// SPDX-License-Identifier: GPL-3.0-or-later
// Signing keys of people: Ed25519, the secret half sealed under a passphrase (Argon2id, XSalsa20-Poly1305, by
// libsodium).
#pragma once

#include <array>
#include <string>

namespace seamwright::book {

struct KeyPair {
  std::string public_hex;  ///< 32 bytes
  std::string sealed_hex;  ///< salt, nonce, sealed secret key, and the key's own signature over these
};

/// A new pair, sealed. Takes a few tenths of a second, on purpose. Throws Fault "book.no-crypto" when
/// libsodium cannot start, "book.weak-passphrase" (passphrase.h).
KeyPair new_keys(const std::string& passphrase);

/// A sealed key is shown to belong to a public key, or not. Without proof: it was sealed by a program that
/// did not sign what it sealed yet; only the passphrase can tell.
enum class Sealing { proven, without_proof, broken };
Sealing sealing_of(const std::string& sealed_hex, const std::string& public_hex);

/// A signer signs for a person: a key held open here, or by the station that was unlocked for the shift.
class Signer {
 public:
  virtual ~Signer() = default;
  /// Signature of a message, hex.
  virtual std::string sign(const std::string& message) const = 0;
  virtual std::string public_hex() const = 0;
};

/// A secret key held open for signing; wiped and unlocked from memory when it goes.
class OpenKey : public Signer {
 public:
  /// Throws Fault "book.wrong-passphrase", "book.bad-key".
  OpenKey(const std::string& sealed_hex, const std::string& passphrase);
  ~OpenKey() override;
  OpenKey(const OpenKey&) = delete;
  OpenKey& operator=(const OpenKey&) = delete;
  std::string sign(const std::string& message) const override;
  std::string public_hex() const override;
  /// The same key sealed under another passphrase. Throws Fault "book.weak-passphrase".
  std::string sealed(const std::string& passphrase) const;

 private:
  std::array<unsigned char, 64> secret_{};
};

/// False for a wrong signature and for anything that is no key or signature.
bool signature_holds(const std::string& public_hex, const std::string& message,
                     const std::string& signature_hex);

std::string random_hex(std::size_t bytes);

}  // namespace seamwright::book
