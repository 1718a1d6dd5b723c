using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Measures.Review;

/// <summary>Why a record is in the pack: its highest tier, or the draw.</summary>
public enum CaseKind
{
    One,
    Two,
    Three,
    Learning,

    /// <summary>No flag of another kind fired; drawn at random, to see what the flags miss.</summary>
    Drawn,

    /// <summary>Only the data are doubtful.</summary>
    Data,
}

/// <summary>The kinds as files name them.</summary>
public static class CaseKinds
{
    public static string Word(CaseKind kind) => kind switch
    {
        CaseKind.One => "tier_1",
        CaseKind.Two => "tier_2",
        CaseKind.Three => "tier_3",
        CaseKind.Learning => "learning",
        CaseKind.Drawn => "drawn",
        _ => "data",
    };

    /// <summary>The kind of a word; null where it is none.</summary>
    public static CaseKind? Of(string word) =>
        Enum.GetValues<CaseKind>().Where(kind => Word(kind) == word).Select(kind => (CaseKind?)kind).FirstOrDefault();

    /// <summary>True where a case of the kind gets a page: tier 3 is a trend and doubtful data a list.</summary>
    public static bool HasPage(CaseKind kind) => kind is CaseKind.One or CaseKind.Two or CaseKind.Learning or CaseKind.Drawn;

    /// <summary>The kind of a record by its highest flag.</summary>
    public static CaseKind Of(Tier tier) => tier switch
    {
        Tier.One => CaseKind.One,
        Tier.Two => CaseKind.Two,
        Tier.Three => CaseKind.Three,
        Tier.Learning => CaseKind.Learning,
        _ => CaseKind.Data,
    };
}

/// <summary>A record that comes to review.</summary>
/// <param name="Id">Its case id.</param>
/// <param name="Kind">Why it comes.</param>
/// <param name="Flags">Every flag that fired, in order of tier and catalogue; those about data included.</param>
/// <param name="Record">The record.</param>
public sealed record SelectedCase(string Id, CaseKind Kind, ImmutableArray<Flag> Flags, JudgedRecord Record)
{
    public bool HasPage => CaseKinds.HasPage(Kind);
}

/// <summary>Which records of a month come to review: each once, at its highest tier.</summary>
public static class Selection
{
    private const int DrawnPercent = 5;

    /// <summary>
    /// The cases in order of kind and case id. Of the records on which no flag but one about data fired, 5 % (rounded, at least one
    /// where there is any) are drawn by the code of <see cref="CaseId"/>: always the same ones, and nobody can choose them.
    /// </summary>
    /// <param name="records">The records of the month.</param>
    /// <param name="flags">The flags that they were judged by.</param>
    /// <param name="salt">The department's salt.</param>
    /// <param name="audience">Who reads the cases.</param>
    /// <param name="late">Records of earlier months that come as new; none of them is drawn.</param>
    public static ImmutableArray<SelectedCase> Of(IReadOnlyList<JudgedRecord> records, IReadOnlyList<Flag> flags, ReadOnlySpan<byte> salt,
        string audience, IReadOnlyList<JudgedRecord>? late = null)
    {
        var coded = new List<(JudgedRecord Record, byte[] Code, ImmutableArray<Flag> Fired)>();
        foreach (var record in records.Concat(late ?? []))
            coded.Add((record, CaseId.Code(salt, audience, record.RecordId),
                [.. record.Fired.Select(i => flags[i]).OrderBy(flag => flag.Tier)]));
        var unflagged = coded.Take(records.Count).Where(item => item.Fired.All(flag => flag.Tier == Tier.Data)).ToArray();
        var drawn = unflagged.OrderBy(item => CaseId.Draw(item.Code)).ThenBy(item => item.Record.RecordId, StringComparer.Ordinal)
            .Take(Drawn(unflagged.Length)).Select(item => item.Record).ToHashSet();
        var cases = coded.Select(item => (item.Code, Case: new SelectedCase(CaseId.Of(item.Code),
                drawn.Contains(item.Record) ? CaseKind.Drawn : KindOf(item.Fired), item.Fired, item.Record)))
            .Where(item => item.Case.Kind == CaseKind.Drawn || !item.Case.Flags.IsEmpty).ToArray();
        var shared = cases.GroupBy(item => item.Case.Id).Where(group => group.Count() > 1).Select(group => group.Key).ToHashSet();
        return [.. cases.Select(item => shared.Contains(item.Case.Id) ? item.Case with { Id = CaseId.Of(item.Code, 12) } : item.Case)
            .OrderBy(item => item.Kind).ThenBy(item => item.Id, StringComparer.Ordinal)];
    }

    /// <summary>How many of so many unflagged records are drawn.</summary>
    public static int Drawn(int unflagged) => unflagged == 0 ? 0 : Math.Max(1, ((unflagged * DrawnPercent) + 50) / 100);

    private static CaseKind KindOf(ImmutableArray<Flag> fired) => fired.IsEmpty ? CaseKind.Data : CaseKinds.Of(fired[0].Tier);
}
