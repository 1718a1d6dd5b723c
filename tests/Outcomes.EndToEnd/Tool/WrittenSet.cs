using System.Security.Cryptography;
using System.Text.Json.Nodes;

namespace Outcomes.Tests.EndToEnd.Tool;

/// <summary>A set that a run wrote, held to the list of files in its manifest.</summary>
internal static class WrittenSet
{
    /// <summary>What is wrong with the set in a folder: a file that its list lacks, that it lacks itself, or with other bytes.</summary>
    public static string[] Faults(string folder)
    {
        if (!File.Exists(Path.Combine(folder, "run.json"))) return ["no run.json"];
        var listed = JsonNode.Parse(File.ReadAllText(Path.Combine(folder, "run.json")))!["files"]?.AsArray();
        if (listed is null) return ["run.json lists no files"];
        var there = Workspace.FilesIn(folder).Where(file => file != "run.json").Select(file =>
        {
            var bytes = File.ReadAllBytes(Path.Combine(folder, file));
            return $"{file.Replace('\\', '/')} {bytes.Length} {Convert.ToHexStringLower(SHA256.HashData(bytes))}";
        }).ToHashSet(StringComparer.Ordinal);
        var should = listed.Select(file => $"{file!["path"]} {file["bytes"]} {file["sha256"]}").ToHashSet(StringComparer.Ordinal);
        return [.. there.Except(should).Select(file => "not on the list: " + file),
            .. should.Except(there).Select(file => "lacks: " + file)];
    }

    public static void AssertWhole(string folder) => Assert.Empty(Faults(folder));
}
