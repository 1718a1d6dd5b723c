using System.Collections.Immutable;

namespace Outcomes.CaseMix;

/// <summary>One field of the case mix, a value a record; null where it is missing. Codes have levels, quantities have numbers.</summary>
public sealed record Covariate
{
    private Covariate(string field, ImmutableArray<string?> levels, ImmutableArray<double?> numbers) =>
        (Field, Levels, Numbers) = (field, levels, numbers);

    public string Field { get; }

    /// <summary>Levels of a code; default for a quantity.</summary>
    public ImmutableArray<string?> Levels { get; }

    /// <summary>Values of a quantity; default for a code.</summary>
    public ImmutableArray<double?> Numbers { get; }

    public bool IsNumber => !Numbers.IsDefault;

    public int Records => IsNumber ? Numbers.Length : Levels.Length;

    /// <summary>Whether a record has a value.</summary>
    public bool IsKnown(int record) => IsNumber ? Numbers[record] is not null : Levels[record] is not null;

    public static Covariate Code(string field, IEnumerable<string?> levels) => new(field, [.. levels], default);

    public static Covariate Quantity(string field, IEnumerable<double?> numbers) => new(field, default, [.. numbers]);

    /// <summary>The values of some records, in the order asked.</summary>
    public Covariate Select(IEnumerable<int> records) =>
        IsNumber ? Quantity(Field, records.Select(i => Numbers[i])) : Code(Field, records.Select(i => Levels[i]));
}

/// <summary>Judged records: what happened to them, and their case mix.</summary>
/// <param name="Events">Whether the event happened.</param>
/// <param name="Given">The fields of the case mix, the most important first, each with a value a record.</param>
public sealed record CaseMixData(ImmutableArray<bool> Events, ImmutableArray<Covariate> Given)
{
    public int Records => Events.Length;

    public CaseMixData Select(IReadOnlyList<int> records) =>
        new([.. records.Select(i => Events[i])], [.. Given.Select(covariate => covariate.Select(records))]);
}
