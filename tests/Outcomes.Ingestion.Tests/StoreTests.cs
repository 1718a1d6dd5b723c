using System.Text;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class StoreTests
{
    private const string Text = "record_id,event_date,spo2_min,location_type\nR1,2024-01-31,97,icu\nR2,2024-01-31,x,icu\n";

    [Fact]
    public void An_unchanged_file_is_not_read_twice_under_whatever_name()
    {
        using var place = new Workplace();
        var first = place.Read(Text);
        var second = place.Read(Text, order: 3);
        Assert.True(first.ReadAnew);
        Assert.False(second.ReadAnew);
        Assert.Equal((first.Stored.Folder, 3), (second.Stored.Folder, second.Stored.Order));
        Assert.Equal(first.Stored.Records, second.Stored.Records);
        Assert.Equal(Stored.Notes(first), Stored.Notes(second));
        Assert.Equal(first.Stored.ProcedureFields.Order(StringComparer.Ordinal),
            second.Stored.ProcedureFields.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_changed_file_of_the_same_length_is_read_anew()
    {
        using var place = new Workplace();
        place.Read(Text);
        var changed = place.Read(Text.Replace("97", "96", StringComparison.Ordinal));
        Assert.True(changed.ReadAnew);
        Assert.Equal("96", Stored.Rows(changed.Stored.Records)[0]["spo2_min"]);
    }

    [Fact]
    public void A_changed_mapping_or_dictionary_is_read_anew()
    {
        using var place = new Workplace();
        place.Read(Text);
        Assert.True(place.Read(Text, Maps.Small with { Text = "# a word more" }).ReadAnew);
        var narrower = Maps.Dictionary.With([Maps.Dictionary.Find("procedure", "spo2_min")! with { Hard = new Interval(98, 100) }]);
        var source =
            Ingest.Read(new SourceRequest("s", 0, place.File(Encoding.UTF8.GetBytes(Text)), "s.csv", Maps.Small), narrower, place.Store);
        Assert.True(source.ReadAnew);
        Assert.Null(Stored.Rows(source.Stored.Records)[0]["spo2_min"]);
    }

    [Fact]
    public void What_an_interrupted_run_left_is_neither_used_nor_in_the_way()
    {
        using var place = new Workplace();
        var folder = place.Read(Text).Stored.Folder;
        Directory.CreateDirectory(Path.Combine(place.Store, "new-half"));
        File.WriteAllText(Path.Combine(place.Store, "new-half", "rows-0.parquet"), "half");
        File.Delete(Path.Combine(folder, "source.json"));
        var again = place.Read(Text);
        Assert.True(again.ReadAnew);
        Assert.Equal(2, Stored.Rows(again.Stored.Records).Count);
        File.WriteAllText(Path.Combine(folder, "source.json"), "{\"length\": 8");
        Assert.True(place.Read(Text).ReadAnew);
    }

    [Fact]
    public void Every_flipped_bit_is_noticed_and_the_file_read_again()
    {
        using var place = new Workplace();
        var read = place.Read(Text);
        var random = new Random(20_260_331);
        foreach (var path in Directory.GetFiles(read.Stored.Folder))
            for (var time = 0; time < 8; time++)
            {
                var bytes = File.ReadAllBytes(path);
                var whole = (byte[])bytes.Clone();
                bytes[random.Next(bytes.Length)] ^= (byte)(1 << random.Next(8));
                File.WriteAllBytes(path, bytes);
                var again = place.Read(Text);
                Assert.True(again is { ReadAnew: true, WasDamaged: true }, Path.GetFileName(path));
                Assert.Equal(whole, File.ReadAllBytes(path));
                Assert.False(place.Read(Text) is { ReadAnew: true } or { WasDamaged: true });
            }
    }

    [Fact]
    public void A_file_that_is_gone_or_one_too_many_is_noticed()
    {
        using var place = new Workplace();
        var folder = place.Read(Text).Stored.Folder;
        foreach (var path in Directory.GetFiles(folder))
        {
            File.Delete(path);
            Assert.True(place.Read(Text).WasDamaged, Path.GetFileName(path));
        }

        File.WriteAllText(Path.Combine(folder, "rows-9.parquet"), "x");
        Assert.True(place.Read(Text).WasDamaged);
    }

    // The layout of sha256sum in GNU coreutils: the sum in hexadecimal, two blanks, the name.
    [Fact]
    public void The_sums_of_a_folder_can_be_checked_by_any_other_program()
    {
        using var place = new Workplace();
        var folder = place.Read(Text).Stored.Folder;
        var sums = File.ReadAllLines(Path.Combine(folder, "SHA256SUMS"));
        Assert.Equal(Directory.GetFiles(folder).Length - 1, sums.Length);
        Assert.All(sums, sum => Assert.Equal(
            Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(Path.Combine(folder, sum[66..])))),
            sum[..64]));
    }

    [Theory]
    [InlineData("json")]
    [InlineData("utf-16")]
    public void A_column_that_the_mapping_does_not_read_never_enters_the_store(string format)
    {
        const string secret = "Windmill-Lane-beyond-the-harbour";
        using var place = new Workplace();
        string[][] cells = [["record_id", "event_date", "spo2_min", "location_type", "where_from"],
            ["R1", "2024-01-31", "97", "icu", secret], ["R2", "bad", "96", "icu", secret]];
        byte[] bytes = format == "json"
            ? System.Text.Json.JsonSerializer.SerializeToUtf8Bytes(cells[1..]
                .Select(row => cells[0].Zip(row).ToDictionary(pair => pair.First, pair => pair.Second)))
            : [.. Encoding.Unicode.GetPreamble(),
                .. Encoding.Unicode.GetBytes(string.Concat(cells.Select(row => string.Join(',', row) + "\n")))];
        var source = place.Read(bytes);
        Assert.DoesNotContain(Directory.GetFiles(place.Store, "*", SearchOption.AllDirectories), path => Holds(path, secret));
        Assert.Equal(["event_date", "location_type", "record_id", "spo2_min"], source.Stored.ProcedureFields.Order(StringComparer.Ordinal));
        // The row to be mended still has it: it comes from the file itself.
        var held = Assert.Single(Quarantine.Rows(
            source, 0, Stored.Keep(DuplicatePolicy.Last, strict: false, source)));
        Assert.Equal(["R2", "bad", "96", "icu", secret], held.Cells);
        Assert.DoesNotContain(Directory.GetFiles(place.Store, "*", SearchOption.AllDirectories), path => Holds(path, secret));
    }

    [Fact]
    public void A_file_that_changed_after_it_was_read_gives_no_row_of_another_version()
    {
        using var place = new Workplace();
        var path = place.File(Encoding.UTF8.GetBytes(Text.Replace("R2,2024-01-31", "R2,bad", StringComparison.Ordinal)));
        var source = Ingest.Read(new SourceRequest("s", 0, path, "s.csv", Maps.Small), Maps.Dictionary, place.Store);
        File.WriteAllText(path, "record_id,event_date,spo2_min,location_type\n");
        var failure = Assert.Throws<Failure>(() => Quarantine.Rows(
            source, 0, Stored.Keep(DuplicatePolicy.Last, strict: false, source)).ToArray());
        Assert.Equal((ExitCode.Input, "s.csv"), (failure.Code, failure.File));
    }

    private static bool Holds(string path, string secret) =>
        Encoding.UTF8.GetString(File.ReadAllBytes(path)).Contains(secret, StringComparison.Ordinal);

    [Fact]
    public void A_refused_file_leaves_nothing()
    {
        using var place = new Workplace();
        Assert.Throws<Failure>(() => place.Read(Text + "R3,\"2024"));
        Assert.Empty(Directory.GetFileSystemEntries(place.Store));
    }

    [Fact]
    public void The_same_file_gives_the_same_bytes()
    {
        using var one = new Workplace();
        using var other = new Workplace();
        var text = "record_id,event_date,spo2_min,location_type\n"
            + string.Concat(Enumerable.Range(0, 3000).Select(i => $"R{i},2024-01-31,{i % 120},{(i % 7 == 0 ? "icu" : "unknown")}\n"));
        Assert.Equal(Bytes(one.Read(text, blockSize: 4096).Stored.Folder), Bytes(other.Read(text, blockSize: 4096).Stored.Folder));
    }

    private static List<string> Bytes(string folder) =>
        [.. Directory.EnumerateFiles(folder).Order(StringComparer.Ordinal).Select(
            file => Path.GetFileName(file) + Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(file))))];
}
