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

    /// <summary>
    /// True when a heading is not to be shown: it holds an identifier, or is a person's name by its form, as where a file has no heading
    /// row or a column for each operator.
    /// </summary>
    public static bool Hides(string heading) => Trips(heading) || HeaderScreen.IsAnIdentifier(heading)
        || Names.Of(heading, out _, out _) == CellForm.FullName;

    /// <summary>Headings as messages and tables may print them.</summary>
    /// <param name="headings">The headings.</param>
    /// <param name="isRead">
    /// Columns that the mapping names, whose headings only an identifier proper hides, since a corrected row is read by them.
    /// </param>
    public static ImmutableArray<string> OfHeadings(ImmutableArray<string> headings, Func<int, bool>? isRead = null) =>
        [.. headings.Select((heading, i) => (isRead?.Invoke(i) == true
            ? HeaderScreen.IsAnIdentifier(heading) || Trips(heading)
            : Hides(heading))
            ? string.Create(CultureInfo.InvariantCulture, $"column {i + 1}")
            : heading)];

    private static bool Found(string text) => (Detect.In(text) & ~IdentifierSets.Counted) != Identifier.None;
}
