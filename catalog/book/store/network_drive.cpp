// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/store/network_drive.h"

#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <sys/vfs.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

namespace seamwright::book {

namespace {

// statfs(2) and the kernel's include/uapi/linux/magic.h [from memory].
struct NetworkType {
  long type;
  const char* name;
};
constexpr NetworkType network_types[] = {{0x6969, "NFS"},         {0x517B, "SMB"},        {0xFF534D42, "CIFS"}, {0xFE534D42, "SMB"},
                                         {0x5346414F, "AFS"},     {0x00C36400, "CEPH"},   {0x01021997, "9P"},   {0x73757245, "CODA"}};
constexpr long fuse_type = 0x65735546;
// Programs that bring another machine's files through FUSE; the others of its kind are disks of this one.
constexpr const char* network_fuse[] = {"fuse.sshfs", "fuse.glusterfs", "fuse.rclone", "fuse.davfs", "fuse.gvfsd-fuse", "fuse.s3fs", "fuse.smbnetfs", "fuse.ceph-fuse", "fuse.kio-fuse"};

std::string kind_of_mount(const std::string& path) {
  struct stat at {};
  if (::stat(path.c_str(), &at) != 0) return "";
  const std::string device = std::to_string(major(at.st_dev)) + ":" + std::to_string(minor(at.st_dev));
  std::ifstream mounts("/proc/self/mountinfo");
  for (std::string line; std::getline(mounts, line);) {
    std::istringstream words(line);
    std::string id, parent, number, kind;
    words >> id >> parent >> number;
    const auto end = line.find(" - ");
    if (number != device || end == std::string::npos) continue;
    std::istringstream(line.substr(end + 3)) >> kind;
    return kind;
  }
  return "";
}

FileSystem file_system_as_it_is(const std::string& path) {
  struct statfs told {};
  if (::statfs(path.c_str(), &told) != 0) return {};
  FileSystem f{static_cast<long>(static_cast<unsigned int>(told.f_type)), ""};
  if (f.type == fuse_type) f.mounted_as = kind_of_mount(path);
  return f;
}

}  // namespace

std::string network_drive_of(const std::string& path) {
  std::error_code ignored;
  std::filesystem::path there = std::filesystem::absolute(path, ignored);
  if (!std::filesystem::exists(there, ignored)) there = there.parent_path();
  const FileSystem f = file_system_of ? file_system_of(there.string()) : file_system_as_it_is(there.string());
  const auto known = std::find_if(std::begin(network_types), std::end(network_types), [&](const NetworkType& n) { return n.type == f.type; });
  if (known != std::end(network_types)) return known->name;
  const bool shared = f.type == fuse_type && std::find(std::begin(network_fuse), std::end(network_fuse), f.mounted_as) != std::end(network_fuse);
  return shared ? f.mounted_as : "";
}

}  // namespace seamwright::book
