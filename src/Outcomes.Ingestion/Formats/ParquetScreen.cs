using System.Buffers.Binary;
using Outcomes.Records;
using Parquet;
using Parquet.Schema;

namespace Outcomes.Ingestion.Formats;

/// <summary>
/// Looks at what a Parquet file says of itself before memory is taken for it: a file of a kilobyte can claim any number of rows.
/// </summary>
internal static class ParquetScreen
{
    private const long MaximumRowGroup = 2L << 30;
    private const int MaximumColumns = 16_384;

    // Runs of one value take next to nothing; keys, which differ from row to row, do not.
    private const long MaximumRowsPerByte = 100;

    // What a cell takes in memory, more for most types.
    private const int BytesPerCell = 16;

    // PAR1, the length of the footer, PAR1.
    private const int Frame = 12;

    /// <summary>Refuses a footer that is not within the file.</summary>
    /// <exception cref="InvalidDataException">It is not.</exception>
    public static void Footer(Stream file)
    {
        Span<byte> tail = stackalloc byte[8];
        if (file.Length < Frame) throw new InvalidDataException("no room for a footer");
        file.Position = file.Length - tail.Length;
        file.ReadExactly(tail);
        file.Position = 0;
        var length = BinaryPrimitives.ReadInt32LittleEndian(tail);
        if (length <= 0 || length > file.Length - Frame || !tail[4..].SequenceEqual("PAR1"u8))
            throw new InvalidDataException("the footer is not within the file");
    }

    /// <summary>Refuses a table without a column to read, or with too many.</summary>
    /// <exception cref="Failure">It is such (exit 4).</exception>
    public static void Columns(int columns, string name)
    {
        if (columns == 0)
            throw new Failure(ExitCode.Input, "the file has no column of texts, numbers or dates; export the table with its columns", name,
                rule: "no_heading");
        if (columns > MaximumColumns)
            throw Limit("the file has more than 16,384 columns; export those that the mapping reads", name);
    }

    /// <summary>Refuses a row group that does not fit the file or the memory.</summary>
    /// <param name="group">The row group.</param>
    /// <param name="fields">Its columns that are read.</param>
    /// <param name="fileLength">Bytes of the file.</param>
    /// <param name="name">The file's name in messages.</param>
    /// <returns>Its rows.</returns>
    /// <exception cref="Failure">It does not (exit 4).</exception>
    public static int Rows(ParquetRowGroupReader group, IReadOnlyCollection<DataField> fields, long fileLength, string name)
    {
        var rows = group.RowCount;
        if (rows < 0) throw new InvalidDataException("a row group of fewer than no rows");
        if (rows > fileLength * MaximumRowsPerByte)
            throw Limit("a row group claims more than 100 rows a byte of the file, as no table with a key has; write the file anew", name);
        if (fields.Sum(field => group.GetMetadata(field)?.MetaData?.TotalUncompressedSize ?? 0) > MaximumRowGroup
            || rows > MaximumRowGroup / BytesPerCell / fields.Count)
            throw Limit("a row group of the file unpacks to more than 2 GiB; write it with smaller row groups", name);
        return (int)rows;
    }

    private static Failure Limit(string words, string name) => new(ExitCode.Input, words, name, rule: "parquet_limit");
}
