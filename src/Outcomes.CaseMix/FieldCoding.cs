using System.Collections.Immutable;

namespace Outcomes.CaseMix;

/// <summary>A column of the model.</summary>
/// <param name="Field">Its field.</param>
/// <param name="Level">Which level it stands for; null for a quantity, whose column is its value.</param>
/// <param name="Records">Records of the baseline at that level; for a quantity, those where it is known.</param>
/// <param name="Events">Events among them.</param>
public sealed record Term(string Field, string? Level, int Records, int Events);

/// <summary>How one field becomes columns, learnt from the baseline and used for every record after.</summary>
/// <remarks>
/// A code's most frequent level is the reference. Levels with fewer than <see cref="LeastRecords"/> records, or where all or none had the
/// event, are pooled into <see cref="Other"/>; where even that stays too small, they count as the reference. A quantity is a straight line.
/// Missing is no level: a record without a value has no row, and is left to a model without the field.
/// </remarks>
public sealed record FieldCoding
{
    public const string Other = "other";

    public const int LeastRecords = 10;

    public required string Field { get; init; }

    /// <summary>The level that odds ratios compare with; null for a quantity.</summary>
    public string? Reference { get; init; }

    /// <summary>The field's columns; none when it does not vary.</summary>
    public required ImmutableArray<Term> Terms { get; init; }

    /// <summary>Levels that were pooled, in ordinal order.</summary>
    public ImmutableArray<string> Pooled { get; init; } = [];

    /// <summary>True when the pooled levels are too few even together, and count as the reference.</summary>
    public bool PooledIsReference { get; init; }

    /// <summary>Records of the baseline without a value.</summary>
    public int MissingRecords { get; init; }

    public static FieldCoding Learn(Covariate covariate, IReadOnlyList<bool> events)
    {
        ArgumentNullException.ThrowIfNull(covariate);
        ArgumentNullException.ThrowIfNull(events);
        int[] known = [.. Enumerable.Range(0, covariate.Records).Where(covariate.IsKnown)];
        return covariate.IsNumber ? Quantity(covariate, events, known) : Code(covariate, events, known);
    }

    /// <summary>The columns of one record; NaN where the field is missing.</summary>
    public IEnumerable<double> Row(Covariate covariate, int record)
    {
        ArgumentNullException.ThrowIfNull(covariate);
        if (!covariate.IsKnown(record))
            return Terms.Select(_ => double.NaN);
        if (covariate.IsNumber)
            return Terms.Select(_ => covariate.Numbers[record]!.Value);
        var level = Fold(covariate.Levels[record]!);
        return Terms.Select(term => term.Level == level ? 1.0 : 0);
    }

    /// <summary>True for a level that the baseline never had; it counts as other, or as the reference.</summary>
    public bool Unseen(Covariate covariate, int record)
    {
        ArgumentNullException.ThrowIfNull(covariate);
        var level = covariate.IsNumber ? null : covariate.Levels[record];
        return level is not null && level != Reference && !Pooled.Contains(level) && Terms.All(term => term.Level != level);
    }

    private string? Fold(string level) => level == Reference || Terms.Any(term => term.Level == level) ? level
        : Terms.Any(term => term.Level == Other) ? Other
        : Reference;

    private static FieldCoding Code(Covariate covariate, IReadOnlyList<bool> events, int[] known)
    {
        Term[] levels = [.. known.GroupBy(i => covariate.Levels[i])
            .Select(group => new Term(covariate.Field, group.Key, group.Count(), group.Count(i => events[i])))
            .OrderByDescending(term => term.Records).ThenBy(term => term.Level, StringComparer.Ordinal)];
        var reference = levels.FirstOrDefault();
        Term[] rest = [.. levels.Where(term => term != reference)];
        // A level named "other" in the data joins the pool's column.
        Term[] small = [.. rest.Where(Small)];
        Term[] pooled = small.Length == 0 ? [] : [.. rest.Where(term => Small(term) || term.Level == Other)];
        var other = new Term(covariate.Field, Other, pooled.Sum(term => term.Records), pooled.Sum(term => term.Events));
        var useful = pooled.Length > 0 && !Small(other);
        return new()
        {
            Field = covariate.Field,
            Reference = reference?.Level,
            Terms = [.. rest.Except(pooled), .. useful ? [other] : Array.Empty<Term>()],
            Pooled = [.. pooled.Select(term => term.Level!).Order(StringComparer.Ordinal)],
            PooledIsReference = pooled.Length > 0 && !useful,
            MissingRecords = covariate.Records - known.Length,
        };
    }

    private static FieldCoding Quantity(Covariate covariate, IReadOnlyList<bool> events, int[] known) => new()
    {
        Field = covariate.Field,
        Terms = known.Select(i => covariate.Numbers[i]).Distinct().Skip(1).Any()
            ? [new(covariate.Field, null, known.Length, known.Count(i => events[i]))]
            : [],
        MissingRecords = covariate.Records - known.Length,
    };

    private static bool Small(Term term) => term.Records < LeastRecords || term.Events == 0 || term.Events == term.Records;
}
