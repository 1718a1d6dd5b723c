using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>
/// The places that are known to break a limit, a line each: <c>limit | file | what | how many</c>. Line numbers, lengths and lists of types
/// are left out, so that an unrelated edit does not move an entry.
/// </summary>
internal static partial class KnownViolations
{
    private static readonly Lazy<string[]> Lines = new(() =>
        File.ReadAllLines(Repository.InRoot("tests", "Outcomes.EndToEnd", "Architecture", "known-violations.txt")));

    /// <summary>How many of each place a limit has in the list.</summary>
    public static Dictionary<string, int> Of(string limit) => Lines.Value
        .Select(line => line.Split(" | ")).Where(parts => parts.Length == 4 && parts[0] == limit)
        .ToDictionary(parts => string.Join(" | ", parts[..3]),
            parts => int.Parse(parts[3], System.Globalization.CultureInfo.InvariantCulture));

    /// <summary>Violations that the list does not have, or has fewer of.</summary>
    public static Violation[] Beyond(string limit, IEnumerable<Violation> found, IReadOnlyDictionary<string, int> listed) =>
        [.. found.GroupBy(each => Key(limit, each)).Where(group => group.Count() > listed.GetValueOrDefault(group.Key))
            .SelectMany(group => group)];

    /// <summary>Entries of the list of which fewer are found.</summary>
    public static string[] Gone(string limit, IEnumerable<Violation> found, IReadOnlyDictionary<string, int> listed)
    {
        var counts = found.CountBy(each => Key(limit, each)).ToDictionary();
        return [.. listed.Where(entry => counts.GetValueOrDefault(entry.Key) < entry.Value)
            .Select(entry => $"{entry.Key} | {entry.Value}").Order()];
    }

    /// <summary>The place of a violation, without what changes with every edit.</summary>
    public static string Key(string limit, Violation violation)
    {
        // The arrow of a circle is between two folders, wherever it is first seen.
        if (Arrow().Match(violation.What) is { Success: true } arrow)
            return $"{limit} | {arrow.Groups["project"]} | {arrow.Groups["arrow"]}";
        return $"{limit} | {violation.File} | {Numbers().Replace(violation.What, "n")}";
    }

    [GeneratedRegex("^(?<project>[^,]+), circle of .*?: (?<arrow>.+? -> .+?) at ")]
    private static partial Regex Arrow();

    [GeneratedRegex("[0-9]+")]
    private static partial Regex Numbers();
}
