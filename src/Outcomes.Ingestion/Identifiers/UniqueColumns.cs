namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Columns of text in which hardly a value repeats. What is asked of the first <see cref="Most"/> values in file order, so
/// that neither the size of blocks nor the number of workers can change the answer.
/// </summary>
public sealed class UniqueColumns(int columns)
{
    /// <summary>Shorter values do not single anyone out.</summary>
    public const int ShortestValue = 6;

    /// <summary>Fewer values than this say nothing.</summary>
    public const int Fewest = 20;

    /// <summary>More are not looked at.</summary>
    public const int Most = 50_000;

    private const int FirstLook = 1000;

    private readonly HashSet<ulong>[] _distinct = [.. Enumerable.Range(0, columns).Select(_ => new HashSet<ulong>())];
    private readonly int[] _values = new int[columns];
    private readonly int[] _long = new int[columns];

    // Written under the turn, read by workers without it: a late answer costs a little work and changes nothing.
    private readonly bool[] _settled = new bool[columns];

    /// <summary>False once more values of the column would not be looked at.</summary>
    public bool MayBe(int column) => !Volatile.Read(ref _settled[column]);

    /// <summary>Adds the values of the next block: their hashes, 0 for a value too short to matter.</summary>
    public void Add(int column, IReadOnlyList<ulong> values)
    {
        for (var i = 0; i < values.Count && !_settled[column]; i++)
        {
            _values[column]++;
            if (values[i] != 0)
            {
                _long[column]++;
                _distinct[column].Add(values[i]);
            }

            // At two fixed places: words that repeat are let go early, and a unique column is not followed for ever.
            if (_values[column] == FirstLook && !Is(column)) _distinct[column].Clear();
            if (_values[column] == Most || (_values[column] == FirstLook && _distinct[column].Count == 0)) Volatile.Write(ref _settled[column], true);
        }
    }

    /// <summary>True when at least nine in ten values are long, and at least 95 in 100 of those differ.</summary>
    public bool Is(int column) =>
        _long[column] >= Fewest && _long[column] * 10L >= _values[column] * 9L && _distinct[column].Count * 100L >= _long[column] * 95L;
}
