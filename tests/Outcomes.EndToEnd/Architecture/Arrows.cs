namespace Outcomes.Tests.EndToEnd.Architecture;

/// <summary>
/// What each assembly may know: the arrows between the project's assemblies, and the packages beside them. Listed as
/// docs/architecture.md draws them and says why the vocabulary assemblies may be seen from further up.
/// </summary>
internal static class Arrows
{
    // A trailing * stands for a family of assemblies that one package brings.
    private static readonly Dictionary<string, string[]> Allowed = new(StringComparer.Ordinal)
    {
        ["Outcomes.Records"] = [],
        ["Outcomes.Statistics"] = ["MathNet.Numerics"],
        ["Outcomes.Ingestion"] = ["Outcomes.Records", "CsvHelper", "ExcelDataReader", "Parquet"],
        ["Outcomes.Measures"] = ["Outcomes.Records", "Outcomes.Statistics", "DuckDB.NET.*", "YamlDotNet"],
        ["Outcomes.CaseMix"] = ["Outcomes.Statistics", "MathNet.Numerics", "Microsoft.ML*"],
        ["Outcomes.Analysis"] = ["Outcomes.Records", "Outcomes.Statistics", "Outcomes.Measures", "Outcomes.CaseMix"],
        ["Outcomes.Synthetic"] = ["Bogus"],
        ["Outcomes.Reporting"] =
        [
            "Outcomes.Records", "Outcomes.Statistics", "Outcomes.Measures", "Outcomes.Analysis", "ScottPlot", "SkiaSharp",
        ],
        // CaseMix for `compute` alone, which gives its statistics on numbers from the command line.
        ["outcomes"] =
        [
            "Outcomes.Records", "Outcomes.Statistics", "Outcomes.Ingestion", "Outcomes.Measures", "Outcomes.CaseMix",
            "Outcomes.Analysis", "Outcomes.Synthetic", "Outcomes.Reporting", "Outcomes.Explore", "System.CommandLine", "Spectre.Console*",
        ],
        ["Outcomes.Explore"] =
        [
            "Outcomes.Records", "Outcomes.Statistics", "Outcomes.Measures", "Outcomes.Analysis", "Outcomes.Reporting",
            "Microsoft.AspNetCore*", "Microsoft.Extensions.*",
        ],
    };

    /// <summary>Whether the table has a place for an assembly.</summary>
    public static bool Knows(string assembly) => Allowed.ContainsKey(assembly);

    /// <summary>A sentence for each reference that is not allowed; empty when all are.</summary>
    public static IReadOnlyList<string> Violations(IEnumerable<Reference> references) =>
        [.. references.Where(reference => !IsAllowed(reference)).Select(Explain)];

    private static bool IsAllowed(Reference reference) =>
        Allowed.TryGetValue(reference.From, out var targets) && targets.Any(target => Matches(target, reference.To));

    private static bool Matches(string pattern, string name) => pattern.EndsWith('*')
        ? name.StartsWith(pattern[..^1], StringComparison.Ordinal)
        : name == pattern;

    private static string Explain(Reference reference) => Allowed.TryGetValue(reference.From, out var targets)
        ? $"{reference.From} -> {reference.To} is not allowed; "
            + $"{reference.From} may know: {string.Join(", ", targets.DefaultIfEmpty("nothing"))}"
        : $"{reference.From} has no place in the table of arrows; add it to docs/architecture.md and here";
}
