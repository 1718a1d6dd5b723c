using System.Text;
using CsCheck;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

/// <summary>A finding or a message says what is wrong and where, never what stood in the cell.</summary>
public class SecrecyTests
{
    private static readonly Gen<string> Token = Gen.Char['a', 'z'].Array[12].Select(letters => "Zq" + new string(letters));

    // # stands for a word that nobody else writes: in every kind of cell, beside separators and quotes, and where the file breaks off.
    private static readonly Gen<string> Text = Gen.Select(
        Pick.From("R1,#,97,icu,", "#,2024-01-31,97,icu,", "R1,2024-01-31,#,icu,", "R1,2024-01-31,9#7,#,", "#,#",
            "R1,2024-01-31,97,icu,#,#", "\"#\nx\",#,#,#,", "R1,2024-01-31,97,i\"#\",", "R1,2024-01-31,\"97\"#,icu,",
            "##############################,2024-01-31,97,icu,").Array[1, 6],
        Pick.From("", "", "", "R1,2024-01-31,97,icu,#\n", "R1,\"#\n", "R1,#\0\n", "R1,#\uFFFF\n"),
        (rows, end) => "record_id,event_date,spo2_min,location_type,dob\n" + string.Concat(rows.Select(row => row + "\n")) + end);

    [Fact]
    public void No_cell_s_text_reaches_a_finding_or_a_message() =>
        Gen.Select(Token, Text, Pick.From(20, 1 << 20)).Sample((token, text, size) =>
        {
            using var place = new Workplace();
            // U+FFFF marks the place of bytes that are no UTF-8.
            var bytes = Encoding.UTF8.GetBytes(text.Replace("#", token, StringComparison.Ordinal))
                .Select(b => b == 0xEF ? (byte)0xFF : b).ToArray();
            try
            {
                var source = place.Read(bytes, blockSize: size);
                var ledger = Stored.Keep(DuplicatePolicy.Last, strict: true, source);
                foreach (var finding in Stored.Findings(source))
                {
                    var field = Maps.Dictionary.Find("procedure", finding.Field);
                    Assert.DoesNotContain(token, $"{CellRules.Id(finding.Rule)} {CellRules.Explain(finding.Rule, field)} {finding.Field}",
                        StringComparison.Ordinal);
                    Assert.DoesNotContain(token, ledger.RuleOf(0, finding.Row), StringComparison.Ordinal);
                }

                foreach (var file in (string[])[source.FindingsPath, Path.Combine(source.Stored.Folder, "source.json")])
                    Assert.Equal(-1, File.ReadAllBytes(file).AsSpan().IndexOf(Encoding.UTF8.GetBytes(token)));
            }
            catch (Failure failure)
            {
                Assert.DoesNotContain(token, failure.ToString(), StringComparison.Ordinal);
            }
        }, iter: 150);

    [Fact]
    public void A_file_without_a_heading_row_does_not_show_its_first_row()
    {
        using var place = new Workplace();
        var failure = Assert.Throws<Failure>(() => place.Read("Zqanother,2024-01-31,97,icu\n"));
        Assert.Equal(ExitCode.Definition, failure.Code);
        Assert.DoesNotContain("Zqanother", failure.Message, StringComparison.Ordinal);
    }
}
