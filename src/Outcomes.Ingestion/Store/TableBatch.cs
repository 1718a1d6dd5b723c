using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Ingestion.Store;

/// <summary>A block of rows of one table, column by column, before it becomes a row group.</summary>
public sealed class TableBatch
{
    private readonly List<SparseReason> _reasons = [];

    public TableBatch(IEnumerable<Field> fields) => Columns = [.. fields.Select(field => new ColumnBuffer(field))];

    public ImmutableArray<ColumnBuffer> Columns { get; }

    /// <summary>Rows filled so far.</summary>
    public int Rows { get; private set; }

    /// <summary>0-based row within the source: of the record, or of the attempt in a file of attempts.</summary>
    public int[] Row { get; private set; } = new int[256];

    /// <summary>Physical line, 1-based, where the row starts.</summary>
    public int[] Line { get; private set; } = new int[256];

    /// <summary>Why cells are missing, where the reason is more than a blank.</summary>
    public IReadOnlyList<SparseReason> Reasons => _reasons;

    public void Reset(int expectedRows)
    {
        Rows = 0;
        _reasons.Clear();
        foreach (var column in Columns) column.Reset(Math.Max(expectedRows, Row.Length));
    }

    /// <summary>Opens a row and returns its place in the block.</summary>
    public int Add(int row, int line)
    {
        if (Rows == Row.Length)
        {
            var (rows, lines) = (Row, Line);
            Array.Resize(ref rows, Rows * 2);
            Array.Resize(ref lines, Rows * 2);
            (Row, Line) = (rows, lines);
            foreach (var column in Columns) column.Grow(Row.Length);
        }

        (Row[Rows], Line[Rows]) = (row, line);
        return Rows++;
    }

    public void AddReason(int row, int attempt, Field field, MissingReason reason) =>
        _reasons.Add(new SparseReason(row, attempt, field, reason));
}

/// <summary>Why one cell is missing.</summary>
public readonly record struct SparseReason(int Row, int Attempt, Field Field, MissingReason Reason);
