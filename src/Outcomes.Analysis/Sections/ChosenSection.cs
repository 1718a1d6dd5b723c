using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>Why a section has its place in this month's report.</summary>
public enum ChosenReason
{
    /// <summary>Fewer of the procedures were recorded than before: nothing is worth more reading.</summary>
    CaptureFell,

    /// <summary>It holds the difference that lies farthest from none.</summary>
    ClearestDifference,

    /// <summary>It is its turn: no difference stands out.</summary>
    Turn,
}

/// <summary>The one section that this month makes worth reading, by a rule that looks at nothing but the figures.</summary>
/// <param name="Reason">Why it was chosen.</param>
/// <param name="Section">The section; null where capture fell.</param>
/// <param name="Difference">The difference that it was chosen for.</param>
/// <param name="Compared">How many differences it was chosen among.</param>
public sealed record ChosenSection(ChosenReason Reason, SectionFigures? Section, LevelDifference? Difference, int Compared)
{
    /// <summary>
    /// Capture that fell comes first. Then the difference between two groups whose interval lies farthest from none: its nearer end, so
    /// that few records do not win by chance alone. Then the sections take turns by month.
    /// </summary>
    /// <param name="sections">All sections.</param>
    /// <param name="captureFell">Whether fewer of the procedures were recorded than before.</param>
    /// <param name="month">The report month.</param>
    /// <returns>Null where no section that takes turns can be answered.</returns>
    public static ChosenSection? Choose(ImmutableArray<SectionFigures> sections, bool captureFell, Month month)
    {
        if (captureFell)
            return new(ChosenReason.CaptureFell, null, null, 0);
        SectionFigures[] candidates = [.. sections.Where(section => section.Definition.Place == SectionPlace.Turn && section.IsAnswered)];
        if (candidates.Length == 0)
            return null;
        var differences =
            candidates.SelectMany(section => section.Differences.Select(each => (Section: section, Difference: each))).ToArray();
        var clearest = differences.OrderByDescending(each => each.Difference.Clearness).FirstOrDefault();
        return clearest.Section is not null && clearest.Difference.Clearness > 0
            ? new(ChosenReason.ClearestDifference, clearest.Section, clearest.Difference, differences.Length)
            : new(ChosenReason.Turn, candidates[month.MonthsSince(new Month(2000, 1)) % candidates.Length], null, differences.Length);
    }
}
