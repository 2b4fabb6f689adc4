// SPDX-License-Identifier: GPL-3.0-or-later
// Keys against the first test vectors of RFC 8032, 7.1 and FIPS 180-4, and what must not open or hold.
#include "catalog/book/keys.h"
#include "catalog/book/passphrase.h"

#include <catch2/catch.hpp>

#include "catalog/published/sha256.h"
#include "engine/evidence/evidence.h"

using namespace seamwright;
using namespace seamwright::book;

TEST_CASE("signature of RFC 8032, 7.1, test 1 and 2") {
  CHECK(signature_holds("d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
                        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e"
                        "39701cf9b46bd25bf5f0595b"
                        "be24655141438e7a100b"));
  CHECK(signature_holds("3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "\x72",
                        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f"
                        "3613d0f11d8c387b2eaeb4302"
                        "aeeb00d291612bb0c00"));
  CHECK_FALSE(signature_holds("3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "\x73",
                              "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e1599"
                              "6e458f3613d0f11d8c387b2eaeb4302"
                              "aeeb00d291612bb0c00"));
  CHECK_FALSE(signature_holds("", "", ""));
  CHECK_FALSE(signature_holds("zz", "a", "zz"));
}

TEST_CASE("SHA-256 of abc, FIPS 180-4") {
  CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

TEST_CASE("a sealed key opens with its passphrase alone, and signs") {
  const KeyPair keys = new_keys("correct horse");
  const OpenKey open(keys.sealed_hex, "correct horse");
  CHECK(open.public_hex() == keys.public_hex);
  const std::string signature = open.sign("weld W1");
  CHECK(signature_holds(keys.public_hex, "weld W1", signature));
  CHECK_FALSE(signature_holds(keys.public_hex, "weld W2", signature));
  CHECK_FALSE(signature_holds(new_keys("another one of mine").public_hex, "weld W1", signature));
  CHECK_THROWS_AS(OpenKey(keys.sealed_hex, "correct Horse"), Fault);
  std::string damaged = keys.sealed_hex;
  damaged.back() = damaged.back() == '0' ? '1' : '0';
  CHECK_THROWS_AS(OpenKey(damaged, "correct horse"), Fault);
  CHECK_THROWS_AS(OpenKey("00", "correct horse"), Fault);
  for (const char* weak : {"short", "elevenchars", "aaaaaaaaaaaaaaaa", "abababababab", "Passwort12345!", "welding2026!!!", "qwertz123456", "12345678901234",
                           "PasswordPassword1"}) {
    INFO(weak);
    CHECK(is_weak_passphrase(weak));
    CHECK_THROWS_AS(new_keys(weak), Fault);
  }
  for (const char* good : {"correct horse", "four tubes and a kettle", "Nahtwurzel 7 Birnen", "Schweißer!!! 12"}) {
    INFO(good);
    CHECK_FALSE(is_weak_passphrase(good));
  }
  CHECK(random_hex(16).size() == 32);
  CHECK(random_hex(16) != random_hex(16));
}
