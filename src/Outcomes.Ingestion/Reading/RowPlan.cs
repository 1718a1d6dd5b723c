using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>One file column and the buffer that its cells go to; a blank cell is looked for in <see cref="Others"/>, in order.</summary>
public readonly record struct PlannedColumn(int FileColumn, CellReader Reader, int Buffer)
{
    public ImmutableArray<int> Others { get; init; } = [];
}

/// <summary>The columns of one attempt that stands in its record's row.</summary>
public sealed record PlannedAttempt(int Number, ImmutableArray<PlannedColumn> Columns);

/// <summary>A constant and the buffer that it fills, as bytes to be read like a cell.</summary>
public sealed record PlannedConstant(CellReader Reader, int Buffer, byte[] Value);

/// <summary>What is to be done with each column of one file: the mapping met with the file's headings.</summary>
public sealed record RowPlan
{
    public required ImmutableArray<string> Headings { get; init; }

    /// <summary>The headings as messages and tables may print them.</summary>
    public required ImmutableArray<string> Shown { get; init; }

    /// <summary>What is looked for in each column.</summary>
    public required ScreenPlan Screen { get; init; }

    public required ImmutableArray<PlannedColumn> Columns { get; init; }

    public required ImmutableArray<PlannedConstant> Constants { get; init; }

    public required ImmutableArray<PlannedAttempt> Attempts { get; init; }

    /// <summary>Fields of the rows' own table, in buffer order.</summary>
    public required ImmutableArray<Field> Fields { get; init; }

    /// <summary>Fields of attempts that stand in columns, in buffer order.</summary>
    public required ImmutableArray<Field> AttemptFields { get; init; }

    /// <summary>File columns whose heading announces a person: a value that betrays one refuses the file.</summary>
    public required ImmutableArray<(int Column, HeadingKind Kind)> Watched { get; init; }

    public required int StatusColumn { get; init; }

    public required ImmutableArray<byte[]> DeletedWords { get; init; }

    public required bool RowsAreAttempts { get; init; }

    /// <summary>Where the rows came from, in a mended quarantine file; null in an export.</summary>
    public MendedOrigin? Mends { get; init; }

    /// <summary>Which buffers hold what, where rows are samples; null elsewhere.</summary>
    public SamplePlan? Samples { get; init; }

    /// <summary>What says that the heart had stopped, in the rows and in attempts that stand in their columns.</summary>
    public required (ImmutableArray<ArrestMark> Rows, ImmutableArray<ArrestMark> Attempts) Arrest { get; init; }

    public string RowsTable =>
        Samples is not null ? FieldDictionary.Trace : RowsAreAttempts ? FieldDictionary.Attempt : FieldDictionary.Procedure;

    /// <summary>Which buffer holds <c>record_id</c>, and which <c>attempt_no</c> (-1 where rows are records).</summary>
    public required (int RecordId, int AttemptNo) Keys { get; init; }

    /// <summary>Meets a mapping with a file's headings.</summary>
    /// <exception cref="Failure">A mapped column is not there or not unique, or a field is unknown (exit 3, the mapping's
    /// line).</exception>
    public static RowPlan Make(SourceMapping mapping, FieldDictionary dictionary, ImmutableArray<string> headings, string file)
    {
        RefuseWhatIsForRecords(mapping);
        var fields = new List<Field>();
        var columns = new List<PlannedColumn>();
        foreach (var column in mapping.Columns)
        {
            var field = Known(mapping, dictionary, mapping.RowsTable, column.Field, column.Line);
            if (fields.Contains(field))
                throw Failure.Definition(mapping.File, column.Line, $"field `{field.Name}` is mapped twice");
            columns.Add(new PlannedColumn(Find(mapping, headings, column.Column, column.Line, file),
                new CellReader(field, column, mapping.File, mapping.Table.DecimalComma), fields.Count)
            {
                Others = [.. column.Others.Select(other => Find(mapping, headings, other, column.Line, file))],
            });
            fields.Add(field);
        }

        var constants = new List<PlannedConstant>();
        foreach (var constant in mapping.Constants)
        {
            var field = Known(mapping, dictionary, mapping.RowsTable, constant.Field, constant.Line);
            if (fields.Contains(field))
                throw Failure.Definition(mapping.File, constant.Line, $"field `{field.Name}` has both a column and a constant");
            if (field.Name == Mapping.Keys.RecordId)
                throw Failure.Definition(mapping.File, constant.Line,
                    $"`{field.Name}` is the key of a row and cannot be a constant; give its column");
            constants.Add(Constant(mapping, field, constant, fields.Count));
            fields.Add(field);
        }

        RefuseExactBesideBand(mapping);
        var (attempts, attemptFields) = PlanAttempts(mapping, dictionary, headings);
        var recordId = fields.FindIndex(field => field.Name == Mapping.Keys.RecordId);
        var attemptNo = mapping.Table.RowsAreAttempts ? fields.FindIndex(field => field.Name == Mapping.Keys.AttemptNo) : -1;
        Need(mapping, recordId >= 0, Mapping.Keys.RecordId);
        var second = mapping.Table.RowsAreSamples ? Mapping.Keys.Offset
            : mapping.Table.RowsAreAttempts ? Mapping.Keys.AttemptNo : Mapping.Keys.EventDate;
        Need(mapping, fields.Exists(field => field.Name == second), second);
        var screen = ScreenPlan.Make(mapping, headings, columns.Concat(attempts.SelectMany(attempt => attempt.Columns))
            .Select(column => (column.FileColumn, column.Reader.Field)));
        return new RowPlan
        {
            Headings = headings,
            Shown = ShownName.OfHeadings(headings, screen.IsRead),
            Screen = screen,
            Columns = [.. columns],
            Constants = [.. constants],
            Attempts = attempts,
            Fields = [.. fields],
            AttemptFields = attemptFields,
            Watched = screen.Watched(headings),
            StatusColumn = mapping.Status is { } status ? Find(mapping, headings, status.Column, status.Line, file) : -1,
            DeletedWords = mapping.Status is { } s ? [.. s.Deleted.Select(Encoding.UTF8.GetBytes)] : [],
            RowsAreAttempts = mapping.Table.RowsAreAttempts,
            Keys = (recordId, attemptNo),
            Arrest = (ArrestMark.In(fields), ArrestMark.In(attemptFields)),
            Samples = mapping.Table.RowsAreSamples ? SamplePlan.Make(mapping, dictionary, fields) : null,
        };
    }

    private static void RefuseWhatIsForRecords(SourceMapping mapping)
    {
        if (mapping.Table.RowsAreSamples && (mapping.Status?.Line ?? mapping.Attempts?.Line) is { } foreign)
            throw Failure.Definition(mapping.File, foreign,
                "`status` and `attempts` are for files of records; remove them from the mapping of traces");
        if (mapping.Table.RowsAreAttempts && mapping.Status is { } misplaced)
            throw Failure.Definition(mapping.File, misplaced.Line,
                "`status` is for files of records, whose deletion takes their attempts with it; remove it");
    }

    // Deriving is there so that the exact value is not kept: mapping that value as well would keep it after all.
    private static void RefuseExactBesideBand(SourceMapping mapping)
    {
        foreach (var derived in mapping.Columns.Where(column => column.Derive is not null))
        {
            var exact = derived.Derive!.From switch { DeriveFrom.Time => "event_time", DeriveFrom.Age => "age_years", _ => null };
            if (mapping.Columns.FirstOrDefault(column => column.Derive is null && column.Field == exact) is { } kept)
                throw Failure.Definition(mapping.File, kept.Line,
                    $"`{exact}` would be stored although `{derived.Field}` is derived so that it need not be; remove one of the two");
        }
    }

    private static void Need(SourceMapping mapping, bool present, string key)
    {
        if (!present)
            throw Failure.Definition(mapping.File, 0, $"the mapping gives no column for the key `{key}`; add it under `columns`");
    }

    private static Field Known(SourceMapping mapping, FieldDictionary dictionary, string table, string name, int line)
    {
        var field = dictionary.Find(table, name) ?? throw Failure.Definition(mapping.File, line,
            $"`{name}` is no {table} field{Nearest.Suggest(name, dictionary.Of(table).Select(field => field.Name))}; "
                + "`outcomes describe` lists them");
        return field.Identifying == Identifying.DirectRisk
            ? throw Failure.Definition(mapping.File, line,
                $"`{name}` is free text and may identify a person; it is not read, remove it from the mapping")
            : FieldDictionary.IsFromTraces(field)
            ? throw Failure.Definition(mapping.File, line,
                $"`{name}` is worked out from samples and not read from an export; name a source of traces, or map the recorded field")
            : field;
    }

    private static int Find(SourceMapping mapping, ImmutableArray<string> headings, string heading, int line, string file)
    {
        var found = Enumerable.Range(0, headings.Length).Where(i => headings[i] == heading).ToArray();
        return found.Length switch
        {
            1 => found[0],
            0 => throw Failure.Definition(mapping.File, line,
                $"{file} has no column {ShownName.Of($"`{heading}`", "of the name given here")}"
                    + Nearest.Suggest(heading, headings.Where(other => !ShownName.Hides(other)))),
            _ => throw Failure.Definition(mapping.File, line, string.Create(CultureInfo.InvariantCulture,
                $"{file} has {found.Length} columns {ShownName.Of($"`{heading}`", "of the name given here")} "
                    + $"(columns {string.Join(", ", found.Select(i => i + 1))}); "
                    + $"rename all but one in the export")),
        };
    }

    private static PlannedConstant Constant(SourceMapping mapping, Field field, ConstantMapping constant, int buffer)
    {
        var reader = new CellReader(field, null, mapping.File);
        var value = Encoding.UTF8.GetBytes(constant.Value);
        var probe = new ColumnBuffer(field);
        probe.Reset(1);
        return reader.Read(value, probe, 0, out _) is CellRule.None or CellRule.Implausible
            ? new PlannedConstant(reader, buffer, value)
            : throw Failure.Definition(mapping.File, constant.Line, $"the constant is no value of field `{field.Name}`");
    }

    private static (ImmutableArray<PlannedAttempt> Attempts, ImmutableArray<Field> Fields) PlanAttempts(
        SourceMapping mapping, FieldDictionary dictionary, ImmutableArray<string> headings)
    {
        if (mapping.Attempts is not { } wide) return ([], []);
        if (mapping.Table.RowsAreAttempts)
            throw Failure.Definition(mapping.File, wide.Line, "rows are attempts already; remove `attempts`");
        var written = new Dictionary<string, ColumnMapping>(StringComparer.Ordinal);
        foreach (var column in wide.Columns)
        {
            Known(mapping, dictionary, FieldDictionary.Attempt, column.Field, column.Line);
            if (column.Others.Length > 0)
                throw Failure.Definition(mapping.File, column.Line,
                    "an attempt's field has one column; several are for fields of the record");
            if (!written.TryAdd(column.Column, column))
                throw Failure.Definition(mapping.File, column.Line, $"two attempt fields have the column `{column.Column}`");
            if (!headings.Any(heading => WideHeading.Match(wide.Pattern, heading)?.Word == column.Column))
                throw Failure.Definition(mapping.File, column.Line,
                    $"no heading matches `{wide.Pattern}` with `{column.Column}` in place of *");
        }

        var fields = new List<Field>();
        var byNumber = new SortedDictionary<int, List<PlannedColumn>>();
        for (var i = 0; i < headings.Length; i++)
        {
            if (WideHeading.Match(wide.Pattern, headings[i]) is not var (number, word) || word.Length == 0) continue;
            var column = written.GetValueOrDefault(word);
            var field = dictionary.Find(FieldDictionary.Attempt, column?.Field ?? word);
            if (field is null || Mapping.Keys.IsKey(field) || (column is null && field.Identifying == Identifying.DirectRisk)) continue;
            var buffer = fields.IndexOf(field);
            if (buffer < 0)
            {
                buffer = fields.Count;
                fields.Add(field);
            }

            if (!byNumber.TryGetValue(number, out var list)) byNumber[number] = list = [];
            if (list.Exists(other => other.Buffer == buffer))
                throw Failure.Definition(mapping.File, column?.Line ?? wide.Line, string.Create(CultureInfo.InvariantCulture,
                    $"several columns give `{field.Name}` of attempt {number}; rename or remove all but one in the export"));
            list.Add(new PlannedColumn(i, new CellReader(field, column, mapping.File, mapping.Table.DecimalComma), buffer));
        }

        if (fields.Count == 0)
            throw Failure.Definition(mapping.File, wide.Line, $"no heading matches `{wide.Pattern}` with an attempt field in place of *");
        return ([.. byNumber.Select(pair => new PlannedAttempt(pair.Key, [.. pair.Value]))], [.. fields]);
    }
}
