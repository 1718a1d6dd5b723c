using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;
using DuckDB.NET.Data;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

/// <summary>Files that claim more than they hold, or that change while they are read: refused in words, and reading them ends.</summary>
public sealed class HostileFileTests : IDisposable
{
    private readonly Workplace _place = new();

    public void Dispose() => _place.Dispose();

    [Fact]
    public void A_workbook_with_one_cell_in_the_last_row_and_column_is_refused_by_its_size()
    {
        Assert.Equal("cell_limit", Refused(Workbook("""
            <row r="1"><c r="A1" t="inlineStr"><is><t>record_id</t></is></c><c r="B1" t="inlineStr"><is><t>event_date</t></is></c></row>
            <row r="1048576"><c r="XFD1048576"><v>1</v></c></row>
            """)).Rule);
    }

    [Theory]
    [InlineData(int.MaxValue)]
    [InlineData(int.MinValue)]
    [InlineData(-1)]
    [InlineData(0)]
    [InlineData(100_000)]
    public void A_parquet_file_whose_footer_is_not_within_it_is_refused(int length)
    {
        var bytes = Parquet("SELECT 'R' || i AS record_id, DATE '2024-01-31' AS event_date FROM range(10) t(i)");
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(bytes.Length - 8), length);
        Assert.Equal("not_readable", Refused(bytes).Rule);
    }

    [Fact]
    public void A_parquet_file_that_claims_more_of_anything_is_refused_or_read_but_ends()
    {
        var bytes = Parquet("SELECT 'R' || i AS record_id, DATE '2024-01-31' AS event_date FROM range(10) t(i)");
        var footer = BinaryPrimitives.ReadInt32LittleEndian(bytes.AsSpan(bytes.Length - 8));
        var start = bytes.Length - 8 - footer;
        var claims = 0;
        // 20 is how the footer writes the number 10: of rows, and of values in each column.
        for (var at = start; at < bytes.Length - 8; at++)
            if (bytes[at] == 20)
                foreach (var claim in (ReadOnlyMemory<byte>[])
                    [new byte[] { 0xFE, 0xFF, 0xFF, 0xFF, 0x0F }, new byte[] { 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x01 }])
                {
                    byte[] lying = [.. bytes[..at], .. claim.Span, .. bytes[(at + 1)..]];
                    BinaryPrimitives.WriteInt32LittleEndian(lying.AsSpan(lying.Length - 8), footer + claim.Length - 1);
                    if (Record.Exception(() => Read(lying)) is { } end) Assert.IsType<Failure>(end);
                    claims++;
                }

        Assert.True(claims >= 6, $"{claims} claims");
    }

    // Found by tests/fuzz.sh: two kilobytes in which the library goes round without reading anything more.
    [Fact]
    public void A_parquet_file_that_keeps_its_reader_busy_for_ever_is_refused() =>
        Assert.Equal("not_readable", Assert.Throws<Failure>(() =>
            ExportSample.Read(Path.Combine(Fixtures.Folder, "ingestion", "endless", "endless.parquet"), "endless.parquet")).Rule);

    [Fact]
    public void A_parquet_file_without_a_column_to_read_is_refused() =>
        Assert.Equal("no_heading", Refused(Parquet("SELECT [i] AS nested FROM range(10) t(i)")).Rule);

    [Fact]
    public void A_parquet_file_of_a_kilobyte_with_ten_million_blank_rows_is_refused() =>
        Assert.Equal("parquet_limit", Refused(Parquet("SELECT NULL::VARCHAR AS record_id, NULL::DATE AS event_date FROM range(10000000)",
            "ROW_GROUP_SIZE 10000000")).Rule);

    [Theory]
    [InlineData("x\n", "cell_limit")]
    [InlineData("x\"\"y\",1\n", "cell_limit")]
    [InlineData("x", "unclosed_quote")]
    public void A_cell_that_is_too_long_is_told_from_one_that_is_never_closed(string end, string rule)
    {
        var closing = rule == "cell_limit" && !end.Contains('"', StringComparison.Ordinal) ? "\"" + end : end;
        var text = "record_id,event_date\nR1,2024-01-31\n\"" + new string('y', (2 * BlockReader.MaximumRecord) + 10) + closing;
        var failure = Refused(Encoding.UTF8.GetBytes(text));
        Assert.Equal((rule, 3), (failure.Rule, failure.Line));
    }

    [Fact]
    public void A_heading_that_is_too_long_is_told_from_one_that_is_never_closed()
    {
        var heading = "record_id,event_date,\"" + new string('y', 2 << 20);
        Assert.Equal("cell_limit", Refused(Encoding.UTF8.GetBytes(heading + "\"\nR1,2024-01-31,z\n")).Rule);
        Assert.Equal("unclosed_quote", Refused(Encoding.UTF8.GetBytes(heading + "\nR1,2024-01-31,z\n")).Rule);
    }

    [Fact]
    public async Task A_source_that_is_cut_off_while_it_is_read_is_refused_and_leaves_nothing_in_the_store()
    {
        var path = _place.File(Encoding.UTF8.GetBytes("record_id,event_date\n"
            + string.Concat(Enumerable.Range(0, 400_000).Select(i => $"R{i},2024-01-31\n"))));
        var cut = Task.Run(() =>
        {
            // There is no event to wait for: reading has begun when its folder is there.
            Assert.True(SpinWait.SpinUntil(
                () => Directory.Exists(_place.Store) && Directory.GetDirectories(_place.Store, "new-*").Length > 0,
                TimeSpan.FromMinutes(1)));
            using var file = new FileStream(path, FileMode.Open, FileAccess.Write, FileShare.ReadWrite);
            file.SetLength(100);
        }, TestContext.Current.CancellationToken);
        var failure = Assert.Throws<Failure>(() => Ingest.Read(
            new SourceRequest("s", 0, path, "s.csv", Maps.Of("record_id", "event_date")), Maps.Dictionary, _place.Store, 4_096));
        await cut;
        Assert.Equal((ExitCode.Input, "changed_while_read"), (failure.Code, failure.Rule));
        Assert.Empty(Directory.GetDirectories(_place.Store));
    }

    [Fact]
    public void A_source_that_is_cut_off_before_its_quarantined_rows_are_copied_is_refused()
    {
        var path = _place.File(Encoding.UTF8.GetBytes("record_id,event_date\nR1,2024-01-31\nR2,never\n"));
        var source = Ingest.Read(
            new SourceRequest("s", 0, path, "s.csv", Maps.Of("record_id", "event_date")), Maps.Dictionary, _place.Store);
        var ledger = Stored.Keep(DuplicatePolicy.Last, strict: false, source);
        File.WriteAllText(path, "x");
        var failure = Assert.Throws<Failure>(() => Quarantine.Rows(source, 0, ledger).ToList());
        Assert.Equal(ExitCode.Input, failure.Code);
        Assert.Contains("changed", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_export_is_drafted_from_under_the_same_limits()
    {
        var path = _place.File(Parquet("SELECT NULL::VARCHAR AS record_id FROM range(10000000)", "ROW_GROUP_SIZE 10000000"));
        Assert.Equal("parquet_limit", Assert.Throws<Failure>(() => ExportSample.Read(path, "draft")).Rule);
    }

    private IngestedSource Read(byte[] bytes) => _place.Read(bytes, Maps.Of("record_id", "event_date"));

    private Failure Refused(byte[] bytes) => Assert.Throws<Failure>(() => Read(bytes));

    private byte[] Parquet(string sql, string options = "COMPRESSION zstd")
    {
        var path = _place.File([]) + ".parquet";
        using var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = $"COPY ({sql}) TO '{path}' (FORMAT parquet, {options})";
        command.ExecuteNonQuery();
        return File.ReadAllBytes(path);
    }

    private static byte[] Workbook(string rows)
    {
        const string Office = "http://schemas.openxmlformats.org/";
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
            foreach (var (name, text) in (ReadOnlySpan<(string, string)>)
            [
                ("xl/workbook.xml",
                    $"<workbook xmlns=\"{Office}spreadsheetml/2006/main\" xmlns:r=\"{Office}officeDocument/2006/relationships\">"
                        + "<sheets><sheet name=\"Data\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"),
                ("xl/_rels/workbook.xml.rels", $"<Relationships xmlns=\"{Office}package/2006/relationships\"><Relationship Id=\"r1\" "
                    + $"Type=\"{Office}officeDocument/2006/relationships/worksheet\" Target=\"worksheets/sheet1.xml\"/></Relationships>"),
                ("xl/worksheets/sheet1.xml",
                    $"<worksheet xmlns=\"{Office}spreadsheetml/2006/main\"><sheetData>{rows}</sheetData></worksheet>"),
            ])
            {
                using var part = new StreamWriter(zip.CreateEntry(name).Open());
                part.Write(text);
            }

        return bytes.ToArray();
    }
}
