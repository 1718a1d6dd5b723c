using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// What a whole file amounts to. It is refused on any e-mail address, postcode or number in the printed form of an NHS number; on
/// ten-digit values, in a column or in all, more of which pass the check than chance allows (<see cref="ChanceOfNumbers"/>); on a
/// column of names, addresses, national numbers or dates of birth; and on a column that is read as text and hardly repeats a value.
/// Everything else makes cells missing.
/// </summary>
public static class ScreenFindings
{
    /// <summary>
    /// A reason to refuse: which rule, which column (0-based), how many cells, where the first is (row -1, line 0: a column as a whole).
    /// </summary>
    public sealed record Ground(CellRule Rule, int Column, int Count, int Line);

    /// <summary>Every reason to refuse, the first in the file first, whole columns last; empty where there is none.</summary>
    public static ImmutableArray<Ground> Grounds(Sightings found, ColumnEvidence evidence, ScreenPlan plan) =>
        [
            .. OfCells(found).OrderBy(entry => entry.Row).ThenBy(entry => entry.Ground.Column).ThenBy(entry => entry.Ground.Rule)
                .Select(entry => entry.Ground), .. OfColumns(evidence, plan)
        ];

    /// <summary>The refusal of a file, or null: names rule, column, line and count, and no cell.</summary>
    public static Failure? Refusal(ImmutableArray<Ground> grounds, ScreenPlan plan, ImmutableArray<string> shown, string file)
    {
        if (grounds.IsEmpty) return null;
        var first = grounds[0];
        var id = IdentifierRules.Id(first.Rule);
        var others = grounds.Select(ground => ground.Column).Where(column => column != first.Column).Distinct().Order()
            .Select(column => Name(column, shown)).ToArray();
        var more = others.Length == 0 ? "" : $"; so {(others.Length == 1 ? "does" : "do")} {string.Join(", ", others)}";
        var cells = first.Line == 0
            ? ""
            : string.Create(CultureInfo.InvariantCulture, $" ({first.Count} cell{(first.Count == 1 ? "" : "s")}, this line first)");
        var read = first.Rule == IdentifierRules.UniqueText && plan.Fields[first.Column] is { } field
            ? $" is read as `{field.Name}` and"
            : "";
        var remedy = first.Column >= shown.Length
            ? "correct the row in the export"
            : "remove it from the export (`outcomes strip` writes a copy without it), or, "
                + $"if a person has looked and it identifies nobody, lift `{id}` for it under columns_checked in the mapping";
        return new Failure(ExitCode.Input, $"{Name(first.Column, shown)}{read} holds what looks "
            + $"like {IdentifierRules.What(first.Rule)}{cells}{more}; {remedy}", file, first.Line, id);
    }

    /// <summary>A column by its place, and by its heading where that identifies nobody.</summary>
    public static string Name(int column, ImmutableArray<string> shown) => column >= shown.Length
        ? "a cell beyond the last heading"
        : string.Create(CultureInfo.InvariantCulture, $"column {column + 1}") is var place
            && (shown[column].Length == 0 || shown[column] == place) ? place : $"{place} `{shown[column]}`";

    /// <summary>
    /// The findings on columns: what cells that are not read look like, columns that hardly repeat or may hold names, columns
    /// declared checked.
    /// </summary>
    public static IEnumerable<CellFinding> Findings(Sightings found, ColumnEvidence evidence, ScreenPlan plan)
    {
        foreach (var column in plan.Checked)
            yield return OfColumn(column, plan,
                plan.Lifted[column].Everything ? IdentifierRules.ColumnChecked : IdentifierRules.RulesLifted);
        for (var column = 0; column < plan.Whole.Length; column++)
        {
            var unread = plan.Fields[column] is null;
            if (unread && plan.Whole[column].HasFlag(WholeColumn.Unique) && evidence.MayBeUnique(column))
                yield return OfColumn(column, plan, IdentifierRules.UniqueText);
            foreach (var (asked, rule, holds) in Doubts)
                if (plan.Whole[column].HasFlag(asked) && holds(evidence, column)) yield return OfColumn(column, plan, rule);
        }

        for (var column = 0; column < found.Columns; column++)
        {
            if (column < plan.Fields.Length && plan.Fields[column] is not null) continue;
            for (var kind = Identifier.NhsForm; kind <= Identifier.Plate; kind = (Identifier)((int)kind << 1))
                if (kind is not (Identifier.TenDigits or Identifier.Unissued) && found.Count(column, kind) is var count and > 0)
                    yield return new CellFinding(found.First(column, kind).Row, found.First(column, kind).Line,
                        (short)(column < plan.Fields.Length ? column : -1), "", IdentifierRules.Of(kind), count);
        }
    }

    /// <summary>
    /// Columns that are not read and that a finding calls identifying as a whole, in the file's order: no detector of single cells
    /// recognises a surname or an infant's date of birth.
    /// </summary>
    public static ImmutableArray<int> Withheld(IEnumerable<CellFinding> findings, ScreenPlan plan) =>
    [
        .. findings.Where(finding => finding is { Row: < 0, FileColumn: >= 0 }
                && finding.Rule is not (IdentifierRules.ColumnChecked or IdentifierRules.RulesLifted))
            .Select(finding => finding.FileColumn).Where(column => !plan.IsRead(column)).Distinct().Order(),
    ];

    // What a column may hold, and what follows where it does not refuse the file.
    private static readonly (WholeColumn Asked, CellRule Rule, Func<ColumnEvidence, int, bool> Holds)[] Doubts =
    [
        (WholeColumn.Names, IdentifierRules.NameColumn, (evidence, column) => evidence.MayHoldNames(column)),
        (WholeColumn.Births, IdentifierRules.BirthColumn, (evidence, column) => evidence.MayHoldBirths(column)),
        (WholeColumn.Initials, IdentifierRules.InitialsColumn, (evidence, column) => evidence.MayHoldInitials(column)),
        (WholeColumn.Addresses, IdentifierRules.AddressColumn, (evidence, column) => evidence.MayHoldAddresses(column)),
        (WholeColumn.Phones, IdentifierRules.PhoneColumn, (evidence, column) => evidence.MayHoldPhones(column)),
        (WholeColumn.Digits, IdentifierRules.PhoneColumn, (evidence, column) => evidence.MayHoldNumbers(column)),
        (WholeColumn.Plates, IdentifierRules.PlateColumn, (evidence, column) => evidence.MayHoldPlates(column)),
    ];

    private static CellFinding OfColumn(int column, ScreenPlan plan, CellRule rule) =>
        new(-1, 0, (short)column, plan.Fields[column]?.Name ?? "", rule);

    private static List<(int Row, Ground Ground)> OfCells(Sightings found)
    {
        var grounds = new List<(int Row, Ground Ground)>();
        var (numbers, passing) = (0, 0);
        for (var column = 0; column < found.Columns; column++)
        {
            foreach (var kind in (ReadOnlySpan<Identifier>)[Identifier.NhsForm, Identifier.Email, Identifier.Postcode,
                Identifier.NationalForm])
                if (found.Count(column, kind) is var count and > 0)
                    grounds.Add((found.First(column, kind).Row,
                        new Ground(IdentifierRules.Of(kind), column, count, found.First(column, kind).Line)));
            var (all, pass) = found.Numbers(column);
            (numbers, passing) = (numbers + all, passing + pass);
            if (ChanceOfNumbers.IsExceeded(all, pass) && Numbers(found, column) is { } ground) grounds.Add(ground);
        }

        if (ChanceOfNumbers.IsExceeded(numbers, passing)
            && !grounds.Exists(ground => ground.Ground.Rule == IdentifierRules.Of(Identifier.NhsNumber)))
            grounds.AddRange(Enumerable.Range(0, found.Columns).Select(column => Numbers(found, column)).OfType<(int, Ground)>());
        return grounds;
    }

    private static (int Row, Ground Ground)? Numbers(Sightings found, int column)
    {
        Identifier[] kinds = [.. ((Identifier[])[Identifier.NhsNumber, Identifier.Chi, Identifier.HealthAndCare, Identifier.Unissued])
            .Where(kind => found.Count(column, kind) > 0)];
        if (kinds.Length == 0) return null;
        var (row, line) = kinds.Select(kind => found.First(column, kind)).Min();
        return (row, new Ground(IdentifierRules.Of(Identifier.NhsNumber), column, kinds.Sum(kind => found.Count(column, kind)), line));
    }

    private static IEnumerable<Ground> OfColumns(ColumnEvidence evidence, ScreenPlan plan)
    {
        for (var column = 0; column < plan.Whole.Length; column++)
        {
            var asked = plan.Whole[column];
            if (asked.HasFlag(WholeColumn.Names) && evidence.HoldsNames(column))
                yield return new Ground(IdentifierRules.NameColumn, column, 0, 0);
            if (asked.HasFlag(WholeColumn.Births) && evidence.HoldsBirths(column))
                yield return new Ground(IdentifierRules.BirthColumn, column, 0, 0);
            if (asked.HasFlag(WholeColumn.National) && evidence.HoldsNationalNumbers(column))
                yield return new Ground(IdentifierRules.NationalColumn, column, 0, 0);
            if (asked.HasFlag(WholeColumn.Addresses) && evidence.HoldsAddresses(column))
                yield return new Ground(IdentifierRules.AddressColumn, column, 0, 0);
            if (asked.HasFlag(WholeColumn.Unique) && plan.Fields[column] is not null && evidence.IsUnique(column))
                yield return new Ground(IdentifierRules.UniqueText, column, 0, 0);
        }
    }
}
