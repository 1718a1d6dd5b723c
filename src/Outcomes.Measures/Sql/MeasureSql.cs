using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>
/// The answer of one measure for one record as an integer that adds: met in the lowest 21 bits, eligible in the next,
/// missing in the highest. A group of fewer than 2^21 records can therefore be summed in one number.
/// </summary>
internal sealed class MeasureSql(Definitions definitions, Collection collection)
{
    public const int Bits = 21;

    private const long Met = 1L | Eligible;
    private const long Eligible = 1L << Bits;
    private const long Missing = 1L << (2 * Bits);

    /// <summary>The packed answers of a judged record, met and not, as an SQL list.</summary>
    public static string Judged => $"{Met}, {Eligible}";

    /// <summary>Branches that turn a packed answer into a digit: 0 not eligible, 1 not met, 2 met, 3 missing.</summary>
    public static string ToDigit => $"WHEN 0 THEN 0 WHEN {Eligible} THEN 1 WHEN {Met} THEN 2 ELSE 3";

    /// <summary>An expression in records of the sources that can give the measure; no value in others.</summary>
    public string Collected(Plan plan, string sql) =>
        plan.Variants.Sum(variant => variant.Sources.Length) == collection.RecordSources.Length
            ? sql
            : $"CASE WHEN source IN ({string.Join(", ", plan.Variants.SelectMany(variant => variant.Sources))}) THEN {sql} END";

    /// <summary>The sources that can give the measure, by the reading of it that they allow, and those that cannot.</summary>
    /// <param name="Measure">The measure.</param>
    /// <param name="Variants">Conditions, and the orders of the sources that they hold for.</param>
    /// <param name="Lacking">What the other sources would have to collect.</param>
    /// <param name="Assumptions">What rests on an assumption.</param>
    public sealed record Plan(
        Measure Measure, ImmutableArray<Variant> Variants, ImmutableArray<NotCollected> Lacking,
        ImmutableArray<RestsOnAssumption> Assumptions)
    {
        public IEnumerable<string> Names =>
            Variants.SelectMany(variant => Expressions.Names(variant.Eligible).Concat(Expressions.Names(variant.Asked)));
    }

    /// <param name="Eligible">Who is asked.</param>
    /// <param name="Asked">What is asked: met, or the value of a quantity.</param>
    /// <param name="Sources">Orders of the sources.</param>
    public sealed record Variant(Expression Eligible, Expression Asked, ImmutableArray<int> Sources);

    public Plan For(Measure measure)
    {
        var eligible = definitions.Condition(measure.Eligible);
        var asked = measure.Kind == MeasureKind.Proportion ? definitions.Condition(measure.Met) : definitions.Value(measure.Value);
        var lacking = ImmutableArray.CreateBuilder<NotCollected>();
        var assumed = ImmutableArray.CreateBuilder<RestsOnAssumption>();
        var readable = new List<(Expression Asked, int Source)>();
        foreach (var source in collection.RecordSources)
        {
            var reading = measure.Settled == Settled.Any ? Alternatives(asked, source) : asked;
            var missing = collection.Lacking(source, Expressions.Names(eligible).Concat(Expressions.Names(reading)));
            if (missing.Length > 0)
            {
                lacking.Add(new NotCollected(measure.Id, source.Name, missing));
                continue;
            }

            readable.Add((reading, source.Order));
            if (collection.AssumedIn(source, Expressions.Names(eligible).Concat(Expressions.Names(reading))) is { Length: > 0 } fields)
                assumed.Add(new RestsOnAssumption(measure.Id, source.Name, fields));
        }

        var variants = readable.GroupBy(item => SqlText.Of(item.Asked))
            .Select(group => new Variant(eligible, group.First().Asked, [.. group.Select(item => item.Source)]));
        return new Plan(measure, [.. variants], lacking.ToImmutable(), assumed.ToImmutable());
    }

    /// <summary>
    /// Alternative evidence that a source never collects is no evidence there: the alternative is left out, so that the others
    /// can still say no.
    /// </summary>
    private Expression Alternatives(Expression met, StoredSource source)
    {
        if (met is Logic { And: true } both)
            return new Logic(true, [.. both.Parts.Select(part => Alternatives(part, source))]);
        if (met is not Logic { And: false } either)
            return met;
        var kept = either.Parts.Select(part => Alternatives(part, source))
            .Where(part => collection.Lacking(source, Expressions.Names(part)).Length == 0).ToImmutableArray();
        return kept.Length switch { 0 => met, 1 => kept[0], _ => new Logic(false, kept) };
    }

    /// <summary>The cells whose "not applicable" makes a record not eligible.</summary>
    public IEnumerable<CellKey> Cells(Plan plan) => plan.Variants.SelectMany(variant => Expressions.Names(variant.Asked)).SelectMany(Cells);

    /// <summary>The packed answer.</summary>
    public string Code(Plan plan, IReadOnlyList<CellKey> notApplicable) =>
        BySource(plan, variant => Code(plan.Measure, variant, notApplicable));

    /// <summary>What a packed answer says.</summary>
    public static Answer Answer(long code) => code switch
    {
        0 => Catalogue.Answer.NotEligible,
        Missing => Catalogue.Answer.Missing,
        Met => Catalogue.Answer.Met,
        _ => Catalogue.Answer.NotMet,
    };

    /// <summary>1 where the record is eligible and met is known, for the known-only reading.</summary>
    public string Known(Plan plan, IReadOnlyList<CellKey> notApplicable) => BySource(plan, variant =>
        $"CASE WHEN {Excluded(variant, notApplicable)}({SqlText.Of(variant.Eligible)}) AND {KnownCondition(plan.Measure, variant)} "
            + $"THEN 1 ELSE 0 END");

    /// <summary>
    /// Whether a record is asked for a quantity (2 yes, 1 unknown, 0 no), its value in units of the last decimal place, and whether a
    /// reading behind it was too low to measure (1 yes, 0 no): that is no number, and known all the same.
    /// </summary>
    public (string Eligible, string Value, string TooLow) Quantity(Plan plan, IReadOnlyList<CellKey> notApplicable) => (
        BySource(plan, variant => $"CASE WHEN {Excluded(variant, notApplicable)}({SqlText.Of(variant.Eligible)}) IS NOT FALSE"
            + $" THEN CASE WHEN {SqlText.Of(variant.Eligible)} THEN 2 ELSE 1 END ELSE 0 END"),
        BySource(plan, variant => plan.Measure.Scale == 1
            ? $"CAST(round({SqlText.Of(variant.Asked)}) AS INTEGER)"
            : $"CAST(round(({SqlText.Of(variant.Asked)}) * {plan.Measure.Scale}) AS INTEGER)"),
        BySource(plan, variant => Expressions.Names(variant.Asked).Where(definitions.Scope.MayBeTooLow).ToArray() is { Length: > 0 } names
            ? $"CASE WHEN {string.Join(" OR ", names.Select(name => $"{Quote.Name(name)} = {Field.TooLow}"))} THEN 1 ELSE 0 END"
            : "0"));

    private string BySource(Plan plan, Func<Variant, string> sql) => plan.Variants switch
    {
        [] => "0",
        [var only] when only.Sources.Length == collection.RecordSources.Length => sql(only),
        _ => $"CASE {string.Join(" ", plan.Variants.Select(variant => When(variant, sql)))} ELSE 0 END",
    };

    private static string When(Variant variant, Func<Variant, string> sql) =>
        $"WHEN source IN ({string.Join(", ", variant.Sources)}) THEN {sql(variant)}";

    private string Code(Measure measure, Variant variant, IReadOnlyList<CellKey> notApplicable)
    {
        var eligible = SqlText.Of(variant.Eligible);
        var met = SqlText.Of(variant.Asked);
        var unknown = measure.Missing == MissingRule.NotDone ? Eligible : Missing;
        var judged = $"CASE WHEN {met} THEN {Met} WHEN ({met}) IS NULL THEN {unknown} ELSE {Eligible} END";
        if (measure.Settled == Settled.All && Expressions.Names(variant.Asked) is { Length: > 0 } names)
            judged = $"CASE WHEN {string.Join(" OR ", names.Select(name => $"{Quote.Name(name)} IS NULL"))} THEN {unknown} WHEN {met} "
                + $"THEN {Met} ELSE {Eligible} END";
        var excluded = NotApplicable(variant, notApplicable) is { } condition ? $"WHEN {condition} THEN 0 " : "";
        return $"CASE {excluded}WHEN {eligible} THEN {judged} WHEN ({eligible}) IS NULL THEN {Missing} ELSE 0 END";
    }

    private static string KnownCondition(Measure measure, Variant variant) =>
        measure.Settled == Settled.All && Expressions.Names(variant.Asked) is { Length: > 0 } names
            ? string.Join(" AND ", names.Select(name => $"{Quote.Name(name)} IS NOT NULL"))
            : $"({SqlText.Of(variant.Asked)}) IS NOT NULL";

    private string Excluded(Variant variant, IReadOnlyList<CellKey> notApplicable) =>
        NotApplicable(variant, notApplicable) is { } condition ? $"NOT ({condition}) AND " : "";

    /// <summary>A named field says so itself; a derived column is missing because a field behind it says so.</summary>
    private string? NotApplicable(Variant variant, IReadOnlyList<CellKey> notApplicable)
    {
        var conditions = new List<string>();
        foreach (var name in Expressions.Names(variant.Asked))
        {
            var bits = Cells(name).Select(cell => notApplicable.ToList().IndexOf(cell)).Where(i => i >= 0).Distinct()
                .Select(RecordsSql.IsNotApplicable).ToArray();
            if (bits.Length > 0)
                conditions.Add(definitions.Scope.Get(name).IsBase
                    ? string.Join(" OR ", bits)
                    : $"({Quote.Name(name)} IS NULL AND ({string.Join(" OR ", bits)}))");
        }

        return conditions.Count == 0 ? null : string.Join(" OR ", conditions);
    }

    private IEnumerable<CellKey> Cells(string name) => collection.Behind([name]).SelectMany(column =>
        column.Stored is { } stored ? [new CellKey(0, stored.Field.Name)]
        : column.Rollup is { Columns: [var attempt] } rollup
            && rollup.Name.StartsWith("attempt1_", StringComparison.Ordinal) ? [new CellKey(1, attempt.Field.Name)]
        : column.Rollup is { Columns: [var second] } other
            && other.Name.StartsWith("attempt2_", StringComparison.Ordinal) ? [new CellKey(2, second.Field.Name)]
        : Array.Empty<CellKey>());
}
