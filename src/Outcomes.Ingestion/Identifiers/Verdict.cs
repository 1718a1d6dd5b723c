using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// What the sightings of a whole file amount to. A file is refused on any e-mail address, postcode or number in the printed form
/// of an NHS number; on five or more ten-digit values, in a column or in all, of which more than 30 % pass the check; and on a
/// column that is read as text and hardly repeats a value. Everything else makes cells missing.
/// </summary>
public static class Verdict
{
    private const int FewestNumbers = 5;
    private const double ShareByChance = 0.30;

    /// <summary>A reason to refuse: which rule, which column (0-based), how many cells, where the first is.</summary>
    public readonly record struct Ground(CellRule Rule, int Column, int Count, int Line);

    /// <summary>Every reason to refuse, the first in the file first; empty where there is none.</summary>
    public static ImmutableArray<Ground> Grounds(Sightings found)
    {
        var grounds = new List<(int Row, Ground Ground)>();
        var (numbers, passing) = (0, 0);
        for (var column = 0; column < found.Columns; column++)
        {
            foreach (var kind in (ReadOnlySpan<Identifier>)[Identifier.NhsForm, Identifier.Email, Identifier.Postcode])
                if (found.Count(column, kind) is var count and > 0)
                    grounds.Add((found.First(column, kind).Row, new Ground(IdentifierRules.Of(kind), column, count, found.First(column, kind).Line)));
            var (of, pass) = (found.Count(column, Identifier.TenDigits), Passing(found, column));
            (numbers, passing) = (numbers + of, passing + pass);
            if (pass > 0 && TooMany(of, pass)) grounds.Add(Numbers(found, column, pass));
        }

        if (TooMany(numbers, passing) && !grounds.Exists(ground => ground.Ground.Rule == IdentifierRules.Of(Identifier.NhsNumber)))
            grounds.AddRange(Enumerable.Range(0, found.Columns).Where(column => Passing(found, column) > 0).Select(column => Numbers(found, column, Passing(found, column))));
        return [.. grounds.OrderBy(entry => entry.Row).ThenBy(entry => entry.Ground.Column).ThenBy(entry => entry.Ground.Rule).Select(entry => entry.Ground)];
    }

    /// <summary>The refusal of a file, or null: names rule, column, line and count, and no cell.</summary>
    public static Failure? Refusal(ImmutableArray<Ground> grounds, ImmutableArray<string> shown, string file)
    {
        if (grounds.IsEmpty) return null;
        var first = grounds[0];
        var others = grounds.Select(ground => ground.Column).Where(column => column != first.Column).Distinct().Order().Select(column => Name(column, shown)).ToArray();
        var more = others.Length == 0 ? "" : $"; so do {string.Join(", ", others)}";
        var cells = string.Create(CultureInfo.InvariantCulture, $"{first.Count} cell{(first.Count == 1 ? "" : "s")}");
        return new Failure(ExitCode.Input,
            $"{Name(first.Column, shown)} holds what looks like {IdentifierRules.What(first.Rule)} ({cells}, this line first){more}; remove it from the export (`outcomes strip` writes a copy without it)",
            file, first.Line, IdentifierRules.Id(first.Rule));
    }

    /// <summary>A column by its place, and by its heading where that identifies nobody.</summary>
    public static string Name(int column, ImmutableArray<string> shown) => column >= shown.Length
        ? "a cell beyond the last heading"
        : string.Create(CultureInfo.InvariantCulture, $"column {column + 1}") is var place && (shown[column].Length == 0 || shown[column] == place) ? place : $"{place} `{shown[column]}`";

    /// <summary>The findings on columns: what cells that are not read look like, columns that hardly repeat, columns declared checked.</summary>
    public static IEnumerable<CellFinding> Findings(Sightings found, UniqueColumns unique, ScreenPlan plan)
    {
        foreach (var column in plan.Checked)
            yield return new CellFinding(-1, 0, (short)column, plan.Fields[column]?.Name ?? "", IdentifierRules.ColumnChecked);
        for (var column = 0; column < plan.ShouldRepeat.Length; column++)
            if (plan.ShouldRepeat[column] && plan.Fields[column] is null && unique.Is(column))
                yield return new CellFinding(-1, 0, (short)column, "", IdentifierRules.UniqueText);
        for (var column = 0; column < found.Columns; column++)
        {
            if (column < plan.Fields.Length && plan.Fields[column] is not null) continue;
            for (var kind = Identifier.NhsForm; kind <= Identifier.Registration; kind = (Identifier)((int)kind << 1))
                if (kind != Identifier.TenDigits && found.Count(column, kind) is var count and > 0)
                    yield return new CellFinding(found.First(column, kind).Row, found.First(column, kind).Line, (short)(column < plan.Fields.Length ? column : -1), "", IdentifierRules.Of(kind), count);
        }
    }

    /// <summary>The refusal of a column that is read as text and in which hardly a value repeats; null where there is none.</summary>
    public static Failure? UniqueAndRead(UniqueColumns unique, ScreenPlan plan, ImmutableArray<string> shown, string file)
    {
        for (var column = 0; column < plan.ShouldRepeat.Length; column++)
            if (plan.ShouldRepeat[column] && plan.Fields[column] is { } field && unique.Is(column))
                return new Failure(ExitCode.Input,
                    $"{Name(column, shown)} is read as `{field.Name}`, and hardly a value of it repeats, as in a column of names or numbers of patients; take it out of the mapping and the export, or state under columns_checked that it identifies nobody",
                    file, 0, IdentifierRules.Id(IdentifierRules.UniqueText));
        return null;
    }

    private static int Passing(Sightings found, int column) =>
        found.Count(column, Identifier.NhsNumber) + found.Count(column, Identifier.Chi) + found.Count(column, Identifier.HealthAndCare);

    private static bool TooMany(int numbers, int passing) => numbers >= FewestNumbers && passing > ShareByChance * numbers;

    private static (int Row, Ground Ground) Numbers(Sightings found, int column, int count)
    {
        var (row, line) = ((Identifier[])[Identifier.NhsNumber, Identifier.Chi, Identifier.HealthAndCare])
            .Where(kind => found.Count(column, kind) > 0).Select(kind => found.First(column, kind)).Min();
        return (row, new Ground(IdentifierRules.Of(Identifier.NhsNumber), column, count, line));
    }
}
