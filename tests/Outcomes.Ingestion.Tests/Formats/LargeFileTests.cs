using System.Globalization;
using System.IO.Compression;
using System.Text;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

/// <summary>Files too large to keep beside the tests, made here.</summary>
public class LargeFileTests
{
    [Fact]
    public void A_cell_of_ten_megabytes_is_a_cell()
    {
        using var place = new Workplace();
        var source = place.Read($"record_id,event_date,site\nR1,2024-01-31,{new string('x', 10_000_000)}\nR2,2024-01-31,ok\n",
            Maps.Of("record_id", "event_date", "site"));
        Assert.Equal([10_000_000, 2], Stored.Rows(source.Stored.Records).Select(row => row["site"]!.Length));
    }

    [Fact]
    public void Findings_tell_the_column_among_forty_thousand()
    {
        using var place = new Workplace();
        var others = string.Concat(Enumerable.Range(0, 39_997).Select(i => string.Create(CultureInfo.InvariantCulture, $"c{i},")));
        var source = place.Read($"record_id,event_date,{others}spo2_min\nR1,2024-01-31,{new string(',', 39_997)}x\n",
            Maps.Of("record_id", "event_date", "spo2_min"));
        Assert.Equal(["not_integer 2:40000 spo2_min"], Stored.Notes(source));
    }

    [Theory]
    [InlineData("xl/worksheets/sheet1.xml")]
    [InlineData("xl/anything.bin")]
    public void A_part_that_unpacks_to_more_than_a_hundred_times_its_size_is_refused_before_it_is_unpacked(string part)
    {
        var bytes = Archive(("xl/workbook.xml", "<workbook/>", 1), (part, new string(' ', 1 << 20), 64));
        Assert.Equal("workbook_limit", Refused(bytes).Rule);
    }

    [Fact]
    public void An_archive_of_thousands_of_parts_is_refused() =>
        Assert.Equal("workbook_limit", Refused(Archive([.. Enumerable.Range(0, 5_001)
            .Select(i => (string.Create(CultureInfo.InvariantCulture, $"p{i}"), "", 0))])).Rule);

    [Fact]
    public void A_part_that_is_longer_than_it_says_is_not_unpacked_further()
    {
        // The declared length (central directory and local header) is made small: the ratio looks harmless.
        var bytes = Archive(("xl/workbook.xml", new string(' ', 1 << 20), 8));
        for (var at = 0; (at = bytes.AsSpan(at).IndexOf(BitConverter.GetBytes(8 << 20)) is var next and >= 0 ? at + next : -1) >= 0; at +=
            4)
            BitConverter.GetBytes(20_000).CopyTo(bytes, at);
        Assert.Equal("not_readable", Refused(bytes).Rule);
    }

    private static Failure Refused(byte[] bytes)
    {
        using var place = new Workplace();
        var failure = Assert.Throws<Failure>(() => place.Read(bytes));
        Assert.Equal(ExitCode.Input, failure.Code);
        return failure;
    }

    private static byte[] Archive(params (string Name, string Text, int Times)[] parts)
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
            foreach (var (name, text, times) in parts)
            {
                using var part = new StreamWriter(zip.CreateEntry(name, CompressionLevel.Optimal).Open(), Encoding.ASCII);
                for (var i = 0; i < times; i++) part.Write(text);
            }

        return bytes.ToArray();
    }
}
