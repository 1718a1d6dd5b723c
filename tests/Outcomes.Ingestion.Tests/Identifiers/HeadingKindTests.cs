using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Stripping;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>Headings that announce a person, in ten languages, and headings that only sound like it.</summary>
public class HeadingKindTests
{
    [Theory]
    [InlineData("Pt name")]
    [InlineData("PatientName")]
    [InlineData("Name of patient")]
    [InlineData("Home phone")]
    [InlineData("Phone 2")]
    [InlineData("Address line 1")]
    [InlineData("Contact no.")]
    [InlineData("Next of kin")]
    [InlineData("Given name")]
    [InlineData("Known as")]
    [InlineData("Staff name")]
    [InlineData("Consultant's name")]
    [InlineData("Pt ID")]
    [InlineData("Hosp no")]
    [InlineData("Number plate")]
    [InlineData("Patientenname")]
    [InlineData("Nachname")]
    [InlineData("Name des Patienten")]
    [InlineData("Straße")]
    [InlineData("Fallnummer")]
    [InlineData("Vers.-Nr. (KVNR)")]
    [InlineData("Nom")]
    [InlineData("Prénom")]
    [InlineData("Nom du patient")]
    [InlineData("N° de sécurité sociale")]
    [InlineData("Téléphone")]
    [InlineData("Apellidos")]
    [InlineData("Nombre del paciente")]
    [InlineData("Número de historia clínica")]
    [InlineData("Dirección")]
    [InlineData("Cognome")]
    [InlineData("Nome paziente")]
    [InlineData("Codice fiscale")]
    [InlineData("Achternaam")]
    [InlineData("Naam patiënt")]
    [InlineData("Burgerservicenummer")]
    [InlineData("Efternamn")]
    [InlineData("Personnummer")]
    [InlineData("Fornavn")]
    [InlineData("CPR-nummer")]
    [InlineData("Fødselsnummer")]
    [InlineData("Etternavn")]
    [InlineData("Sukunimi")]
    [InlineData("Henkilötunnus")]
    [InlineData("Sähköposti")]
    public void A_direct_identifier(string heading) => Assert.Equal(HeadingKind.Direct, HeaderScreen.KindOf(heading));

    [Theory]
    [InlineData("Pt DOB")]
    [InlineData("Date of birth")]
    [InlineData("Geburtsdatum")]
    [InlineData("Geb.-Datum")]
    [InlineData("Date de naissance")]
    [InlineData("Fecha de nacimiento")]
    [InlineData("Data di nascita")]
    [InlineData("Geboortedatum")]
    [InlineData("Födelsedatum")]
    [InlineData("Fødselsdato")]
    [InlineData("Syntymäaika")]
    public void A_date_of_birth(string heading) => Assert.Equal(HeadingKind.Birth, HeaderScreen.KindOf(heading));

    [Theory]
    [InlineData("Patient")]
    [InlineData("Consultant")]
    [InlineData("Consultant in charge")]
    [InlineData("Operator 1")]
    [InlineData("Seen by")]
    [InlineData("Completed by")]
    [InlineData("Behandelnder Arzt")]
    [InlineData("Médecin")]
    [InlineData("Läkare")]
    public void A_person_whom_the_cells_may_name(string heading) => Assert.Equal(HeadingKind.Person, HeaderScreen.KindOf(heading));

    [Theory]
    [InlineData("E-mail sent")]
    [InlineData("Telephone advice given")]
    [InlineData("DOB known")]
    [InlineData("Initials checked")]
    [InlineData("Telefonische Beratung")]
    [InlineData("E-mail envoyé")]
    [InlineData("Number of patients")]
    [InlineData("No of operators")]
    [InlineData("Operator grade")]
    [InlineData("Consultant present")]
    [InlineData("Device name used")]
    [InlineData("Ward name")]
    [InlineData("Birth weight (g)")]
    [InlineData("CPR")]
    [InlineData("Preoxygenation by")]
    [InlineData("Patient position")]
    [InlineData("Nombre de patients")]
    [InlineData("Stationsname")]
    [InlineData("Case ref")]
    public void None_of_these(string heading) => Assert.Equal(HeadingKind.Other, HeaderScreen.KindOf(heading));

    [Theory]
    [InlineData("Surname", "yes", false)]
    [InlineData("DOB", "N", false)]
    [InlineData("DOB", "03/04/2012", true)]
    [InlineData("E-mail", "2024-03-31", false)]
    [InlineData("Telephone", "n/a", false)]
    [InlineData("Surname", "example", true)]
    [InlineData("Consultant", "Example", true)]
    [InlineData("Consultant", "Intensive Care", false)]
    [InlineData("Consultant", "Yes", false)]
    [InlineData("Consultant", "ST5", false)]
    [InlineData("Patient", "Adult", false)]
    [InlineData("Patient", "Anna Example", true)]
    [InlineData("Patient", "0012345", true)]
    [InlineData("Arzt", "Oberarzt", false)]
    public void Only_a_cell_that_says_more_than_yes_or_a_role_refuses(string heading, string cell, bool refused)
    {
        using var place = new Workplace();
        var text = $"record_id,event_date,{heading}\nR1,2024-01-31,{cell}\n";
        if (!refused)
        {
            place.Read(text, Maps.Of("record_id", "event_date"));
            return;
        }

        var failure = Assert.Throws<Failure>(() => place.Read(text, Maps.Of("record_id", "event_date")));
        Assert.Equal(("identifying_column", 2), (failure.Rule, failure.Line));
        Assert.DoesNotContain(cell, failure.Message, StringComparison.Ordinal);
        // The copy leaves out what a read refuses, and nothing else.
        var path = place.File(System.Text.Encoding.UTF8.GetBytes(text));
        Assert.Single(Strip.Write(path, "x.csv", path + ".copy", null, Maps.Dictionary).Columns);
    }

    [Fact]
    public void A_key_under_the_heading_of_a_patient_is_read()
    {
        using var place = new Workplace();
        var mapping = Maps.Of("record_id", "event_date");
        mapping = mapping with { Columns = mapping.Columns.SetItem(0, mapping.Columns[0] with { Column = "Patient" }) };
        Assert.Equal(1, place.Read("Patient,event_date\nkq7w2,2024-01-31\n", mapping).Manifest.Rows);
    }

    [Theory]
    [InlineData("640823-3234")]
    [InlineData("someone@example.org")]
    public void A_heading_that_is_an_identifier_refuses_unseen(string heading)
    {
        using var place = new Workplace();
        var failure = Assert.Throws<Failure>(
            () => place.Read($"record_id,event_date,{heading}\nR1,2024-01-31,x\n", Maps.Of("record_id", "event_date")));
        Assert.Equal("identifying_heading", failure.Rule);
        Assert.DoesNotContain(heading, failure.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Anna Example")]
    [InlineData("EXAMPLE, Anna")]
    [InlineData("12/03/1961")]
    [InlineData("A000500015")]
    [InlineData("12 Fenwick Road")]
    public void A_heading_that_may_be_one_is_shown_by_its_place(string heading)
    {
        using var place = new Workplace();
        var source = place.Read($"record_id,event_date,\"{heading}\"\nR1,2024-01-31,x\n", Maps.Of("record_id", "event_date"));
        Assert.Equal(["record_id", "event_date", "column 3"], source.Manifest.Headings);
    }

    [Theory]
    [InlineData("Export for 999 000 0018")]
    [InlineData("by a.person@example.org")]
    public void What_stands_above_the_headings_is_searched(string title)
    {
        using var place = new Workplace();
        var mapping = Maps.Of("record_id", "event_date") with { Table = new TableLayout(null, false) { HeaderRow = 3 } };
        foreach (var bytes in (byte[][])[System.Text.Encoding.UTF8.GetBytes($"Audit\n{title}\nrecord_id,event_date\nR1,2024-01-31\n"),
            TinyWorkbook.Of([("visible", ["Audit", title, "record_id|event_date", "R1|2024-01-31"])])])
        {
            var failure = Assert.Throws<Failure>(() => place.Read(bytes, mapping));
            Assert.Equal(("identifying_title", 2), (failure.Rule, failure.Line));
            Assert.DoesNotContain(title, failure.ToString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_mapping_that_names_one_is_not_repeated()
    {
        using var place = new Workplace();
        var mapping = Maps.Of("record_id", "event_date");
        mapping = mapping with { Columns = mapping.Columns.SetItem(0, mapping.Columns[0] with { Column = "someone@example.org" }) };
        var failure = Assert.Throws<Failure>(() => place.Read("a,event_date\nR1,2024-01-31\n", mapping));
        Assert.DoesNotContain("someone", failure.ToString(), StringComparison.Ordinal);
    }
}
