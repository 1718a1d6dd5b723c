using System.Text;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Cli.Checking;

/// <summary>Everything that is wrong with the data, from cells, rules and the ledger, in the order of files and lines.</summary>
public static class FindingList
{
    /// <summary>The findings of every source.</summary>
    public static List<Finding> Collect(
        IReadOnlyList<IngestedSource> sources, DefinitionSet definitions, IReadOnlyList<RuleBreach> breaches, Ledger ledger, bool strict)
    {
        var findings = new List<Finding>();
        for (var s = 0; s < sources.Count; s++)
        {
            var drafts = Cells(sources[s], definitions.Dictionary, strict)
                .Concat(breaches.Where(breach => breach.Source == sources[s].Request.Order)
                    .Select(breach => Rule(sources[s], definitions.Rules[breach.Rule], breach)))
                .Concat(LedgerRows(s, sources[s], ledger))
                .Where(draft => ledger.RuleOf(s, draft.Row) != LedgerKeeper.Mended)
                .OrderBy(draft => draft.Row).ThenBy(draft => draft.Order).ToList();
            findings.AddRange(WithKeys(sources[s], drafts));
        }

        return findings;
    }

    private sealed record Draft(int Row, int Order, Finding Finding);

    private static IEnumerable<Draft> Cells(IngestedSource source, FieldDictionary dictionary, bool strict)
    {
        var table = source.Request.Mapping.RowsTable;
        foreach (var cell in FindingLog.Read(source.FindingsPath))
        {
            var field = cell.Field.Length == 0
                ? null
                : dictionary.Find(table, cell.Field) ?? dictionary.Find(FieldDictionary.Attempt, cell.Field);
            yield return new Draft(cell.Row, cell.FileColumn, new Finding(
                CellRules.Id(cell.Rule), CellRules.SeverityOf(cell.Rule, field, strict), source.Request.File, cell.Line,
                cell.FileColumn < 0 ? "" : source.Manifest.Headings[cell.FileColumn], "", CellRules.Explain(cell.Rule, field, cell.Count)));
        }
    }

    private static Draft Rule(IngestedSource source, ConsistencyRule rule, RuleBreach breach) =>
        new(breach.Row, 1_000_000 + breach.Rule, new Finding(
            rule.Id, rule.Severity, source.Request.File, breach.Line,
            string.Join(", ", rule.Blanks.Select(field => Heading(source, field))), "", rule.Why));

    private static IEnumerable<Draft> LedgerRows(int index, IngestedSource source, Ledger ledger)
    {
        if (ledger.WithRepeatedKeys.Contains(index))
            yield return new Draft(-1, 0, RepeatedKeyFindings.Find(source, ledger, index, Heading(source, Keys.RecordId)));
        foreach (var (_, row) in ledger.Strays.Where(place => place.Source == index))
            yield return OfLedger(source, row, LedgerKeeper.OriginNotHeld, Severity.Warn);
        if (ledger.Files[index].Quarantined == 0) yield break;
        foreach (var (_, row) in ledger.Repeats.Where(place => place.Source == index))
            yield return OfLedger(source, row, LedgerKeeper.Repeated);
        for (var row = 0; row < source.Manifest.Rows; row++)
            if (ledger.Of(index, row) == Fate.Quarantined
                && ledger.RuleOf(index, row) is LedgerKeeper.NoRecord or LedgerKeeper.AttemptRepeated
                || (source.Request.Mends is not null && ledger.RuleOf(index, row) == CellRules.Id(CellRule.RaggedRow)))
                yield return OfLedger(source, row, ledger.RuleOf(index, row));
    }

    private static Draft OfLedger(IngestedSource source, int row, string rule, Severity severity = Severity.Refuse) =>
        new(row, 2_000_000, new Finding(rule, severity, source.Request.File, 0, Heading(source, Keys.RecordId), "", Explain(rule)));

    private static string Explain(string rule) => rule switch
    {
        LedgerKeeper.Repeated => "The key stands in an earlier row too, and this pipeline keeps the first; the row is quarantined.",
        LedgerKeeper.NoRecord => "No accepted record has this key, so the attempt belongs to nothing; add the record or correct the key.",
        LedgerKeeper.AttemptRepeated =>
            "The same attempt of the same record stands in an earlier row of this file; number the attempts or remove the repeat.",
        LedgerKeeper.OriginNotHeld => "The row that this one mends is no longer held at its line, "
            + "most likely since the export was written anew; it counts only where no row of the export has its key.",
        "ragged_row" => CellRules.Explain(CellRule.RaggedRow, null),
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "no such rule"),
    };

    private static string Heading(IngestedSource source, string field) =>
        source.Request.Mapping.Columns.FirstOrDefault(column => column.Field == field)?.Column is { } heading
            ? ShownName.Of(heading, field)
            : field;

    // One pass over the row index gives each finding its key, and those of the ledger their line.
    private static IEnumerable<Finding> WithKeys(IngestedSource source, List<Draft> drafts)
    {
        int next = 0, first = 0;
        for (; next < drafts.Count && drafts[next].Row < 0; next++) yield return drafts[next].Finding;
        foreach (var block in RowIndex.Read(source.IndexPath))
        {
            for (; next < drafts.Count && drafts[next].Row < first + block.Count; next++)
            {
                var i = drafts[next].Row - first;
                yield return drafts[next].Finding with { RecordId = Encoding.UTF8.GetString(block.Key(i)), Line = block.Line[i] };
            }

            first += block.Count;
        }
    }
}
