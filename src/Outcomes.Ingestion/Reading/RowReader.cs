using System.Runtime.CompilerServices;
using CsvHelper;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Parsing;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>
/// Reads blocks of records into batches, an index of rows and findings. One for each worker; it is refilled block by block.
/// </summary>
public sealed class RowReader(RowPlan plan, char separator, string file, ColumnEvidence evidence, LineMap? lines = null)
{
    private readonly List<CellFinding> _findings = [];
    private readonly List<Zero> _zeros = [];
    private readonly bool _guarded = plan.Mends is not null;
    private int _malformedLine;

    public TableBatch Rows { get; } = new(plan.Fields);

    public TableBatch Attempts { get; } = new(plan.AttemptFields);

    /// <summary>Number of the attempt in each row of <see cref="Attempts"/>, and the record's row in <see cref="Rows"/>.</summary>
    public List<(int Number, int Record)> AttemptOf { get; } = [];

    public RowIndexBlock Index { get; } = new();

    /// <summary>What the identifier detectors found in the block.</summary>
    public BlockScreen Screen { get; } = new(plan.Screen, evidence);

    public IReadOnlyList<CellFinding> Findings => _findings;

    /// <summary>Rows without any value: not rows in, but counted.</summary>
    public int BlankRows { get; private set; }

    /// <summary>Rows of a mended file that came from another source: not rows in, but counted.</summary>
    public int OutsideRows { get; private set; }

    /// <summary>The line in its origin of each row of a mended file.</summary>
    public List<int> Origins { get; } = [];

    /// <summary>
    /// Reads a block. Rows are numbered from 0 within it and lines from its first; <see cref="Rebase"/> shifts rows once the rows
    /// before are known.
    /// </summary>
    /// <exception cref="Failure">A value stands under a heading that names a direct identifier (exit 4).</exception>
    public void Read(Block block)
    {
        var expected = (block.Bytes.Length / Math.Max(16, plan.Headings.Length * 2)) + 16;
        Rows.Reset(Math.Min(expected, 1 << 16));
        Attempts.Reset(256);
        AttemptOf.Clear();
        Index.Reset(1024);
        _findings.Clear();
        BlankRows = OutsideRows = 0;
        Origins.Clear();
        Screen.Reset();
        _malformedLine = 0;
        using var reader =
            CsvReader.Create(block.Bytes, SourceHeader.Options(separator, malformed => _malformedLine = (int)malformed.LineNumber));
        while (reader.Read())
        {
            if (IsBlank(reader))
            {
                BlankRows++;
                continue;
            }

            ReadRow(reader, block);
        }
    }

    /// <summary>Numbers the block's rows from <paramref name="first"/>.</summary>
    public void Rebase(int first)
    {
        if (first == 0) return;
        for (var i = 0; i < Rows.Rows; i++) Rows.Row[i] += first;
        for (var i = 0; i < Attempts.Rows; i++) Attempts.Row[i] += first;
        for (var i = 0; i < _findings.Count; i++) _findings[i] = _findings[i] with { Row = _findings[i].Row + first };
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void ReadRow(CsvReader reader, Block block)
    {
        var row = Index.Count;
        var line = (int)reader.LineNumber + block.LinesBefore;
        if (lines is not null) line = lines.Of(line);
        var marks = RowMarks.None;
        if (_malformedLine == reader.LineNumber)
            _findings.Add(new CellFinding(row, line, -1, "", CellRule.BrokenQuotes));
        foreach (var (watched, kind) in plan.Watched)
            if (watched < reader.FieldCount && HeaderScreen.Betrays(kind, Cell(reader, watched))) throw Betrayed(watched, kind, line);
        if (plan.Mends is { } mends)
        {
            var (mine, origin) = MendedFile.Origin(reader, mends, file, line);
            if (!mine)
            {
                OutsideRows++;
                return;
            }

            Origins.Add(origin);
        }

        if (reader.FieldCount != plan.Headings.Length)
        {
            _findings.Add(new CellFinding(row, line, -1, "", CellRule.RaggedRow));
            for (var i = 0; i < reader.FieldCount; i++) Look(reader, i, row, line);
            Index.Add([], block.Offset + reader.ByteOffset, line, RowMarks.Held, 0);
            return;
        }

        var at = Rows.Add(row, line);
        foreach (var column in plan.Columns)
        {
            var cell = Cell(reader, column.FileColumn);
            marks |= cell.IsEmpty && column.Others.Length > 0
                ? ReadFirstFilled(reader, column, at, row, line)
                : ReadCell(cell, column, Rows, at, row, line, 0);
        }

        foreach (var constant in plan.Constants)
        {
            constant.Reader.Read(constant.Value, Rows.Columns[constant.Buffer], at, out var reason);
            if (reason != MissingReason.Blank) Rows.AddReason(at, 0, constant.Reader.Field, reason);
        }

        foreach (var unread in plan.Screen.Unread) Look(reader, unread, row, line);
        if (plan.Samples is not null) RefuseClockTimes(reader, line, marks);
        if (plan.StatusColumn >= 0 && plan.DeletedWords.Any(word => Cell(reader, plan.StatusColumn).SequenceEqual(word)))
            marks |= RowMarks.Deleted;
        foreach (var attempt in plan.Attempts)
            marks |= ReadAttempt(reader, attempt, at, row, line);
        marks |= SettleZeros(at);
        var number = plan.Keys.AttemptNo < 0 ? 0 : Math.Max(0, Rows.Columns[plan.Keys.AttemptNo].Ints[at]);
        Index.Add(Rows.Columns[plan.Keys.RecordId].Text(at), block.Offset + reader.ByteOffset, line, marks, number);
    }

    private Failure Betrayed(int column, HeadingKind kind, int line) => new(ExitCode.Input,
        $"{ScreenFindings.Name(column, plan.Shown)} names {(kind == HeadingKind.Person ? "a person and holds what is no role or grade"
            : "a direct identifier and holds values")}; remove the column from the export (`outcomes strip` writes a copy without it), or, "
            + $"if a person has looked and it identifies nobody, lift `{IdentifierRules.IdentifyingHeading}` for it under columns_checked "
            + "in the mapping", file, line, IdentifierRules.IdentifyingHeading);

    // A cell that was read as a number is none; a clock time is among those that were not, or in a column that is not read.
    private void RefuseClockTimes(CsvReader reader, int line, RowMarks marks)
    {
        if (marks != RowMarks.None)
            foreach (var column in plan.Columns) RefuseClockTime(reader, column.FileColumn, line);
        foreach (var unread in plan.Screen.Unread) RefuseClockTime(reader, unread, line);
    }

    private void RefuseClockTime(CsvReader reader, int column, int line)
    {
        if (ClockText.Is(Cell(reader, column)))
            throw new Failure(ExitCode.Input, string.Create(System.Globalization.CultureInfo.InvariantCulture,
                $"column {column + 1} `{plan.Shown[column]}` holds a date or a clock time, and a trace has offsets from induction only; "
                    + $"remove the column, or export seconds from induction"), file, line, ClockText.Rule);
    }

    // A finding names the column that the value stood in; where all are blank, the first.
    private RowMarks ReadFirstFilled(CsvReader reader, PlannedColumn column, int at, int row, int line)
    {
        foreach (var other in column.Others)
            if (Cell(reader, other) is { IsEmpty: false } cell)
                return ReadCell(cell, column with { FileColumn = other }, Rows, at, row, line, 0);
        return ReadCell([], column, Rows, at, row, line, 0);
    }

    private RowMarks ReadAttempt(CsvReader reader, PlannedAttempt attempt, int record, int row, int line)
    {
        var any = false;
        foreach (var column in attempt.Columns)
            any |= !Cell(reader, column.FileColumn).IsEmpty;
        if (!any) return RowMarks.None;
        var at = Attempts.Add(row, line);
        AttemptOf.Add((attempt.Number, record));
        var marks = RowMarks.HasAttempts;
        foreach (var buffer in Attempts.Columns) buffer.SetMissing(at);
        foreach (var column in attempt.Columns)
            marks |= ReadCell(Cell(reader, column.FileColumn), column, Attempts, at, row, line, attempt.Number);
        return marks;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private RowMarks ReadCell(ReadOnlySpan<byte> cell, PlannedColumn column, TableBatch batch, int at, int row, int line, int attempt)
    {
        var buffer = batch.Columns[column.Buffer];
        var field = column.Reader.Field;
        var rule = CellRule.None;
        var reason = MissingReason.Blank;
        if (cell.IsEmpty)
        {
            buffer.SetMissing(at);
            if (!field.Required && !Keys.IsKey(field)) return RowMarks.None;
            rule = CellRule.Missing;
        }
        else
        {
            rule = column.Reader.Read(cell, buffer, at, out reason);
            if (rule == CellRule.None && reason == MissingReason.Blank && field.Type != FieldType.Text) return RowMarks.None;
            // A cell that was read as a word, a number or a date holds nothing else; text, and what could not be read, may.
            if (reason is MissingReason.Blank or MissingReason.Invalid && rule != CellRule.Implausible
                && Screen.Look(cell, column.FileColumn, row, line) is var found and not Identifier.None)
            {
                buffer.ClearText(at);
                (rule, reason) = (IdentifierRules.Of(found), MissingReason.Invalid);
            }

            if (rule == CellRule.None && reason == MissingReason.Blank) return RowMarks.None;
            if (rule == CellRule.OutOfRange && reason == MissingReason.Unrecordable)
            {
                _zeros.Add(new Zero(field, batch, column.Buffer, at, attempt, _findings.Count));
                _findings.Add(new CellFinding(row, line, column.FileColumn, field.Name, rule));
                return RowMarks.None;
            }

            if (reason != MissingReason.Blank)
            {
                batch.AddReason(at, attempt, field, reason);
                if (rule == CellRule.None && !Keys.IsKey(field)) return RowMarks.None;
                if (rule == CellRule.None) rule = CellRule.Missing;
            }
        }

        _findings.Add(new CellFinding(row, line, column.FileColumn, field.Name, rule));
        return rule == CellRule.Implausible ? RowMarks.None : Keys.IsKey(field) ? RowMarks.Held | RowMarks.CellFault : RowMarks.CellFault;
    }

    // Once the row is read it is known whether the heart had stopped: a 0 is then a reading too low to measure, and otherwise no reading.
    private RowMarks SettleZeros(int record)
    {
        if (_zeros.Count == 0) return RowMarks.None;
        var marks = RowMarks.None;
        var arrest = plan.Arrest.Rows.Any(mark => mark.Holds(Rows, record));
        for (var i = _zeros.Count - 1; i >= 0; i--)
        {
            var zero = _zeros[i];
            var tooLow = arrest || (zero.Batch == Attempts && plan.Arrest.Attempts.Any(mark => mark.Holds(Attempts, zero.At)));
            zero.Batch.AddReason(zero.At, zero.Attempt, zero.Field, tooLow ? MissingReason.Unrecordable : MissingReason.Invalid);
            if (!tooLow)
            {
                marks |= RowMarks.CellFault;
                continue;
            }

            zero.Batch.Columns[zero.Buffer].SetTooLow(zero.At);
            _findings.RemoveAt(zero.Finding);
        }

        _zeros.Clear();
        return marks;
    }

    /// <summary>A cell of 0 whose meaning the rest of the row decides.</summary>
    private readonly record struct Zero(Field Field, TableBatch Batch, int Buffer, int At, int Attempt, int Finding);

    private void Look(CsvReader reader, int column, int row, int line)
    {
        if (Strict.Trim(reader.GetSpan(column)) is { IsEmpty: false } cell) Screen.Look(cell, column, row, line);
    }

    private bool IsBlank(CsvReader reader)
    {
        // The first mapped cell of a real row is its key nearly always: one look settles it.
        if (plan.Columns[plan.Keys.RecordId].FileColumn is var key && key < reader.FieldCount && !Cell(reader, key).IsEmpty) return false;
        for (var i = 0; i < reader.FieldCount; i++)
            if (!Cell(reader, i).IsEmpty) return false;
        return true;
    }

    // A mended file was written by this tool, which guards texts that a spreadsheet would run: exactly that comes off, before trimming.
    private ReadOnlySpan<byte> Cell(CsvReader reader, int column) =>
        Strict.Trim(_guarded ? FormulaGuard.Off(reader.GetSpan(column)) : reader.GetSpan(column));
}
