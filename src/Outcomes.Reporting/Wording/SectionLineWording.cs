using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Reporting;

/// <summary>A section in a line: the difference that lies farthest from none, and the medians of what it compares.</summary>
public static class SectionLineWording
{
    /// <summary>The difference whose interval lies farthest from none; that none stands out; or nothing where none is compared.</summary>
    public static string Difference(SectionFigures section)
    {
        ArgumentNullException.ThrowIfNull(section);
        if (section.Differences.IsEmpty)
            return "";
        var farthest = section.Differences.MaxBy(each => each.Clearness)!;
        return farthest.Clearness > 0
            ? $"{farthest.Measure.Title}: {ChangeWording.Difference(farthest.Difference)}"
            : section.Differences.Length == 1 ? "No clear difference."
            : $"No clear difference in {Wording.Number(section.Differences.Length)} measures.";
    }

    /// <summary>The medians of its quantities at the two levels that it compares; empty without any.</summary>
    public static string Medians(SectionFigures section)
    {
        ArgumentNullException.ThrowIfNull(section);
        return section.Definition.Compare is not { } compare ? "" : string.Join("; ", section.Quantities
            .Where(quantity => quantity.Field == compare.By).Select(quantity => (quantity.Measure, Yes: Median(quantity, "yes"),
                No: Median(quantity, "no")))
            .Where(each => each.Yes.Length > 0 && each.No.Length > 0)
            .Select(each => $"{each.Measure.Title} {each.Yes} against {each.No}{(each.Measure.Unit is { } unit ? " " + unit : "")}"));
    }

    /// <summary>What is compared: <c>Foreseen or shocked against neither</c>; empty where nothing is.</summary>
    public static string Compared(SectionFigures section, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(section);
        ArgumentNullException.ThrowIfNull(titles);
        return section.Definition.Compare is { } compare && !section.Differences.IsEmpty
            ? $"{titles.Level(compare.By, "yes")} against {Readable.WithinSentence(titles.Level(compare.By, "no"))}" : "";
    }

    private static string Median(StratifiedQuantity quantity, string level) =>
        quantity.Levels.FirstOrDefault(each => each.Level == level)?.Summary is { } summary
            ? Wording.Quantity(summary.Median, summary.Decimals) : "";
}
