#include <catch2/catch.hpp>
#include <cstdlib>
#include <random>

#include "files/sha256.hpp"
#include "shared.hpp"

using namespace culmwright;
using namespace culmwright::tests;

// FIPS 180-4's example values as published with it (NIST, "SHA-256 examples": one block, two blocks), and the
// long message of one million letters a of FIPS 180-2, appendix B.3.
TEST_CASE("digests agree with the examples of the Secure Hash Standard") {
  CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(sha256(std::string(1000000, 'a')) ==
        "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
  CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

// coreutils' sha256sum, an independent program.
TEST_CASE("digests of every length around a block agree with sha256sum") {
  TemporaryFolder folder;
  std::mt19937 random(1);
  std::string list;
  for (std::size_t length = 0; length <= 130; ++length) {
    std::string bytes(length, '\0');
    for (char& c : bytes) c = static_cast<char>(random() & 0xffu);
    const std::string name = "f" + std::to_string(length);
    write(folder.path() / name, bytes);
    list += sha256(bytes) + "  " + name + "\n";
  }
  write(folder.path() / "list", list);
  const std::string command =
      "cd '" + folder.path().string() + "' && sha256sum --check --quiet --strict list";
  CHECK(std::system(command.c_str()) == 0);
}
