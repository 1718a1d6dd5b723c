using System.Collections.Immutable;
using System.Text;
using ExcelDataReader;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Parsing;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>
/// Searches what lies in a workbook beside the sheet that is read: hidden sheets as tables, other sheets for what refuses a file, and
/// comments, properties, defined names and the like as texts. Strong evidence refuses the file and the rest is a warning; both name the
/// kind of the place and its position, and nothing of its text.
/// </summary>
internal sealed class WorkbookSearch(string file, string sheet)
{
    private const int RowsOfVisible = 2_000;
    private const int RowsOfBlock = 4_096;
    private const int MostFindings = 20;

    private readonly List<CellFinding> _findings = [];

    /// <summary>The warnings.</summary>
    /// <exception cref="Failure">A place holds an identifier (exit 4).</exception>
    public IReadOnlyList<CellFinding> Search(IExcelDataReader reader, WorkbookParts parts)
    {
        foreach (var text in parts.Texts()) Look(text);
        reader.Reset();
        for (var place = 1; ; place++)
        {
            if (reader.Name != sheet) Search(reader, place, reader.VisibleState != "visible");
            if (!reader.NextResult()) break;
        }

        return _findings;
    }

    private void Look(PartText text)
    {
        var found = Detect.In(text.Text, IdentifierSets.OfUnread) & ~IdentifierSets.Counted;
        if (found == Identifier.None) return;
        var place = text.Rule == CellRule.Comment ? (text.Place * PlaceNames.Columns) + text.Column : text.Place;
        if ((found & IdentifierSets.Refusing) != 0)
            throw Refused(text.Rule, place, text.Line, IdentifierRules.What(IdentifierRules.Of(found)));
        Warn(text.Rule, place, text.Line);
    }

    private void Search(IExcelDataReader reader, int place, bool hidden)
    {
        var (row, headings, cells) = (0, ImmutableArray<string>.Empty, new CellText('.'));
        HiddenTable? table = null;
        while (row < (hidden ? int.MaxValue : RowsOfVisible) && reader.Read())
        {
            row++;
            var texts = Enumerable.Range(0, reader.FieldCount)
                .Select(i => cells.Of(reader.GetValue(i), null).Trim().Trim('\u00A0')).ToArray();
            if (texts.All(text => text.Length == 0)) continue;
            if (table is null)
            {
                headings = [.. texts];
                if (Array.Exists(texts, HeaderScreen.IsAnIdentifier)) throw Refused(CellRule.HiddenSheet, place, row, "an identifier");
                table = new HiddenTable(headings);
            }

            if (table.Add(texts, row)) throw Refused(CellRule.HiddenSheet, place, row, "a column of direct identifiers, by its heading");
            if (row % RowsOfBlock == 0) table.EndBlock();
        }

        if (table is null) return;
        table.EndBlock();
        if (table.Grounds(hidden) is [var ground, ..])
            throw Refused(CellRule.HiddenSheet, place, ground.Line, IdentifierRules.What(ground.Rule));
        if (hidden && table.FirstDoubt() is { } line) Warn(CellRule.HiddenSheet, place, line);
    }

    private void Warn(CellRule rule, int place, int line)
    {
        if (_findings.Count(finding => finding.Rule == rule) < MostFindings) _findings.Add(new CellFinding(-1, line, -1, "", rule, place));
    }

    private Failure Refused(CellRule rule, int place, int line, string what) => new(ExitCode.Input,
        $"{PlaceNames.Of(rule, place)} holds what looks like {what}; remove it from the workbook, or export the one sheet as CSV UTF-8 "
            + "(`outcomes strip` writes a copy that holds nothing else)", file, line, Reading.CellRules.Id(rule));

    // A sheet that nobody maps: every column is searched as one that is not read.
    private sealed class HiddenTable
    {
        private readonly ScreenPlan _plan;
        private readonly ColumnEvidence _evidence;
        private readonly BlockScreen _screen;
        private readonly Sightings _found;
        private readonly ImmutableArray<(int Column, HeadingKind Kind)> _watched;

        public HiddenTable(ImmutableArray<string> headings)
        {
            _plan = ScreenPlan.Of(new Field?[headings.Length], headings, []);
            _evidence = new ColumnEvidence(_plan.Asked.Length);
            _screen = new BlockScreen(_plan, _evidence);
            _found = new Sightings(_plan.Asked.Length);
            _watched = _plan.Watched(headings);
            First = true;
        }

        private bool First { get; set; }

        /// <summary>Adds a row; true when a value stands under a heading that announces a person.</summary>
        public bool Add(string[] texts, int row)
        {
            var heading = First;
            First = false;
            for (var i = 0; i < texts.Length; i++)
                if (texts[i].Length > 0) _screen.Look(Strict.Trim(Encoding.UTF8.GetBytes(texts[i])), i, row, row);
            return !heading && _watched.Any(watched => watched.Column < texts.Length
                && HeaderScreen.Betrays(watched.Kind, Encoding.UTF8.GetBytes(texts[watched.Column])));
        }

        public void EndBlock()
        {
            _found.Add(_screen.Found, 0);
            for (var i = 0; i < _plan.Whole.Length; i++) _evidence.Add(i, _screen.Values(i));
            _screen.Reset();
        }

        /// <summary>Reasons to refuse; of a sheet that everyone sees, those of single cells alone.</summary>
        public ImmutableArray<ScreenFindings.Ground> Grounds(bool whole) =>
            [.. ScreenFindings.Grounds(_found, _evidence, _plan).Where(ground => whole || ground.Line > 0)];

        /// <summary>The row of the first suspicion, 0 where it is of a whole column; null where there is none.</summary>
        public int? FirstDoubt() =>
            ScreenFindings.Findings(_found, _evidence, _plan).Where(finding => finding.Rule != IdentifierRules.UniqueText)
                .OrderBy(finding => finding.Line).Select(finding => (int?)finding.Line).FirstOrDefault();
    }
}
