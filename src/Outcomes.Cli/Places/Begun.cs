using System.Globalization;
using Outcomes.Ingestion.Store;

namespace Outcomes.Cli.Places;

/// <summary>A note of files that are being given their names one after the other: hash, length and place, a line each.</summary>
internal static class Begun
{
    public const string FileName = "begun";

    public static void Write(string path, IEnumerable<ListedFile> files)
    {
        var part = path + ".part";
        File.WriteAllLines(part,
            files.Select(file => string.Create(CultureInfo.InvariantCulture, $"{file.Sha256} {file.Bytes} {file.Path}")));
        File.Move(part, path, overwrite: true);
    }

    /// <summary>Deletes the noted files that stand in their places, and no other: a file that someone has changed stays.</summary>
    /// <param name="path">The note.</param>
    /// <param name="place">A folder under which folders that are empty then go too.</param>
    public static void TakeBack(string path, string place)
    {
        foreach (var line in File.ReadLines(path))
        {
            var parts = line.Split(' ', 3);
            if (parts.Length != 3) continue;
            var file = new FileInfo(parts[2]);
            if (file.Exists && file.LinkTarget is null && file.Length.ToString(CultureInfo.InvariantCulture) == parts[1]
                && Checksums.Of(file.FullName) == parts[0])
                file.Delete();
            for (var folder = file.DirectoryName; folder is not null && folder.StartsWith(place + Path.DirectorySeparatorChar,
                StringComparison.Ordinal); folder = Path.GetDirectoryName(folder))
                Tidy.Try(() => Directory.Delete(folder));
        }
    }
}
