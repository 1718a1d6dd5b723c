using System.Buffers;
using System.Collections.Immutable;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>Writes rows of typed cells as delimited text, each cell as the field it is mapped to reads it.</summary>
internal sealed class TextTable
{
    public const char Separator = ',';

    /// <summary>Rows by columns: a thousand columns of half a million rows.</summary>
    public const long MaximumCells = 500_000_000;

    private static readonly SearchValues<char> Quoted = SearchValues.Create(",\"\r\n");

    private readonly StreamWriter _target;
    private readonly CellReader?[] _readers;
    private readonly CellText _text;
    private readonly string _file;
    private int _line = 1;
    private long _cells;

    /// <summary>Meets the headings with the mapping and writes them.</summary>
    /// <param name="target">Where the text goes.</param>
    /// <param name="headings">The headings, trimmed.</param>
    /// <param name="headerPlace">Their row in the file.</param>
    /// <param name="request">The table, with the readers of its columns.</param>
    /// <param name="serialShift">Days that the file's calendar starts after the usual one.</param>
    public TextTable(StreamWriter target, ImmutableArray<string> headings, int headerPlace, TableRequest request, int serialShift = 0)
    {
        (_target, _file) = (target, request.File);
        if (request.Refuse) SourceHeader.RefuseIdentifiers(headings, request.File, headerPlace);
        _readers = request.Readers(headings);
        _text = new CellText(request.Mapping.Table.DecimalComma ? ',' : '.', serialShift);
        Write(headings, headings.Length, headerPlace, (cells, i) => cells[i]);
    }

    public int Columns => _readers.Length;

    public LineMap Lines { get; } = new();

    /// <summary>Writes a row; cells beyond the headings are written too, so that the row is seen to be ragged.</summary>
    public void Write<T>(T row, int cells, int place, Func<T, int, object?> cellOf)
    {
        Lines.Add(_line, place);
        if ((_cells += Math.Max(1, cells)) > MaximumCells) throw TooManyCells(_file);
        for (var i = 0; i < cells; i++)
        {
            if (i > 0) _target.Write(Separator);
            Write(_text.Of(cellOf(row, i), i < _readers.Length ? _readers[i] : null));
        }

        End();
    }

    /// <summary>Writes a blank row.</summary>
    public void WriteBlank(int place)
    {
        Lines.Add(_line, place);
        End();
    }

    /// <summary>The refusal of a table of more than <see cref="MaximumCells"/>.</summary>
    public static Failure TooManyCells(string file) => new(ExitCode.Input,
        "the table has more than 500 million cells (rows by columns, blank ones included); delete the empty rows and columns beyond it, "
        + "or export it as CSV UTF-8", file, rule: "cell_limit");

    private void End()
    {
        _target.Write('\n');
        _line++;
    }

    private void Write(string text)
    {
        if (!text.AsSpan().ContainsAny(Quoted))
        {
            _target.Write(text);
            return;
        }

        for (var i = 0; i < text.Length; i++)
            if (text[i] == '\n' || (text[i] == '\r' && (i + 1 == text.Length || text[i + 1] != '\n'))) _line++;
        _target.Write('"');
        _target.Write(text.Replace("\"", "\"\"", StringComparison.Ordinal));
        _target.Write('"');
    }
}
