using System.Collections.Immutable;
using System.Globalization;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Names of files, sheets and columns as messages and tables may print them: one that identifies a person is replaced by its place.
/// </summary>
public static class ShownName
{
    /// <summary>The name, or <paramref name="place"/> where a detector finds anything in it.</summary>
    public static string Of(string name, string place)
    {
        ArgumentNullException.ThrowIfNull(name);
        return Trips(name) ? place : name;
    }

    /// <summary>True when the name itself holds an identifier. Underscores and ends of file names stand for spaces.</summary>
    public static bool Trips(string name)
    {
        var extension = name.Length > 5 && name.LastIndexOf('.') is var dot && dot >= name.Length - 5 && dot > 0 ? name[..dot] : name;
        return Found(name) || Found(extension.Replace('_', ' ')) || Found(extension.Replace('_', ' ').Replace('-', ' '));
    }

    /// <summary>How messages call the source's file: as the pipeline writes it, or by its place in the order of sources.</summary>
    public static string OfFile(string file, int order) => Of(file, string.Create(CultureInfo.InvariantCulture, $"source {order + 1}"));

    /// <summary>Headings as messages and tables may print them.</summary>
    public static ImmutableArray<string> OfHeadings(ImmutableArray<string> headings) =>
        [.. headings.Select((heading, i) => HeaderScreen.IsAnIdentifier(heading) || Trips(heading)
            ? string.Create(CultureInfo.InvariantCulture, $"column {i + 1}")
            : heading)];

    private static bool Found(string text) => (Detect.In(text) & ~IdentifierSets.Counted) != Identifier.None;
}
