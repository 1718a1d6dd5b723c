using System.Globalization;
using Bogus;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>
/// Columns that identify nobody, in the same locales: what is done about identifiers, wards that bear a name, days of devices, places,
/// findings and roles in each language, and Bogus's own companies' sayings, colours, products and prose.
/// </summary>
internal static class CleanAbroad
{
    private static readonly Dictionary<string, (string[] Headings, string[] Yes, string[] Findings, string[] Places,
        string[] Roles)> Words = new()
        {
            ["en_GB"] = (["E-mail sent", "Telephone advice given", "DOB known", "Initials checked"], ["Yes", "No"],
                ["Septic shock", "Head injury", "Cardiac arrest", "Airway burns", "Stroke", "Overdose", "Asthma", "Upper airway bleed"],
                ["Nightingale Ward", "Lister Unit", "Seacole Ward", "Resus 2", "Theatre 4", "Intensive Care"],
                ["Consultant", "Registrar", "Foundation doctor", "Nurse practitioner"]),
            ["de"] = (["E-Mail gesendet", "Telefonische Beratung", "Geburtsdatum bekannt", "Initialen geprüft"], ["ja", "nein"],
                ["Septischer Schock", "Schädel-Hirn-Trauma", "Herzstillstand", "Inhalationstrauma", "Schlaganfall", "Vergiftung",
                    "Asthma bronchiale", "Status epilepticus", "Obere Blutung", "Akutes Abdomen"],
                ["Virchow-Station", "Station 4b", "Schockraum", "OP 3", "Intensivstation", "Zentrale Notaufnahme", "Notarztwagen"],
                ["Oberarzt", "Assistenzärztin", "Facharzt", "Chefarzt", "Pflegekraft"]),
            ["fr"] = (["E-mail envoyé", "Conseil téléphonique donné", "Date de naissance connue", "Initiales vérifiées"], ["oui", "non"],
                ["Choc septique", "Traumatisme crânien", "Arrêt cardiaque", "Brûlure des voies aériennes", "AVC",
                    "Intoxication médicamenteuse", "Asthme aigu grave", "Œdème pulmonaire", "Polytraumatisé"],
                ["Salle Laennec", "Réanimation médicale", "Bloc 2", "Déchocage", "Urgences", "Service Pasteur"],
                ["Interne", "Senior", "Chef de clinique", "Infirmière anesthésiste"]),
            ["es"] = (["Correo enviado", "Consejo telefónico", "Fecha de nacimiento conocida", "Iniciales comprobadas"], ["sí", "no"],
                ["Shock séptico", "Traumatismo craneal", "Parada cardiaca", "Quemadura inhalatoria", "Ictus", "Intoxicación", "Asma grave",
                    "Edema pulmonar", "Neumonía"],
                ["Sala Ramón y Cajal", "Box 3", "Quirófano 2", "Urgencias", "UCI", "Reanimación"],
                ["Adjunto", "Residente", "Enfermera", "Jefe de guardia"]),
            ["it"] = (["E-mail inviata", "Consiglio telefonico", "Data di nascita nota", "Iniziali verificate"], ["sì", "no"],
                ["Shock settico", "Trauma cranico", "Arresto cardiaco", "Ustione delle vie aeree", "Ictus", "Intossicazione", "Asma grave",
                    "Edema polmonare", "Polmonite"],
                ["Sala Golgi", "Rianimazione", "Pronto Soccorso", "Sala operatoria 2", "Reparto 5"],
                ["Strutturato", "Specializzando", "Infermiere", "Primario"]),
            ["nl"] = (["E-mail verzonden", "Telefonisch advies gegeven", "Geboortedatum bekend", "Initialen gecontroleerd"], ["ja", "nee"],
                ["Septische shock", "Hersenletsel", "Hartstilstand", "Inhalatietrauma", "Beroerte", "Vergiftiging", "Astma", "Longoedeem"],
                ["Boerhaave-afdeling", "Spoedeisende hulp", "OK 3", "Intensive care", "Afdeling 7"],
                ["Specialist", "Arts-assistent", "Verpleegkundige", "Staflid"]),
            ["sv"] = (["E-post skickad", "Telefonrådgivning", "Födelsedatum känt", "Initialer kontrollerade"], ["ja", "nej"],
                ["Septisk chock", "Skallskada", "Hjärtstopp", "Inhalationsskada", "Stroke", "Förgiftning", "Astma", "Lungödem"],
                ["Karolinska avdelningen", "Akutmottagningen", "IVA", "Operation 2", "Avdelning 12"],
                ["Överläkare", "Specialistläkare", "Sjuksköterska", "ST-läkare"]),
            ["nb_NO"] = (["E-post sendt", "Telefonrådgivning", "Fødselsdato kjent", "Initialer kontrollert"], ["ja", "nei"],
                ["Septisk sjokk", "Hodeskade", "Hjertestans", "Inhalasjonsskade", "Hjerneslag", "Forgiftning", "Astma", "Lungeødem"],
                ["Akuttmottak", "Intensivavdelingen", "Operasjonsstue 2", "Sengepost 4"],
                ["Overlege", "Lege i spesialisering", "Sykepleier"]),
            ["fi"] = (["Sähköposti lähetetty", "Puhelinneuvonta", "Syntymäaika tunnettu", "Nimikirjaimet tarkistettu"], ["kyllä", "ei"],
                ["Septinen sokki", "Aivovamma", "Sydänpysähdys", "Hengitystiepalovamma", "Aivoinfarkti", "Myrkytys", "Astma", "Keuhkopöhö"],
                ["Päivystys", "Teho-osasto", "Leikkaussali 2", "Osasto 5"],
                ["Erikoislääkäri", "Erikoistuva lääkäri", "Sairaanhoitaja"]),
        };

    /// <summary>Headings with the cells of one file, one kind drawn at random.</summary>
    public static (string Kind, string Heading, string[] Cells) Draw(Faker at, int rows)
    {
        var words = Words[at.Locale];
        string[] Cells(Func<string> draw) => [.. Enumerable.Range(0, rows).Select(_ => draw())];
        string Day(int from, int to) => new DateTime(2022, 6, 30).AddDays(-at.Random.Int(from, to))
            .ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        string[] List(int different, Func<string> draw) => [.. Enumerable.Range(0, different).Select(_ => draw())];
        return at.Random.Int(0, 15) switch
        {
            0 => ("acts: yes or no", at.PickRandom(words.Headings), Cells(() => at.PickRandom(words.Yes))),
            1 => ("acts: dates", at.PickRandom(words.Headings), Cells(() => Day(0, 180))),
            2 => ("findings", "Details", Cells(() => at.PickRandom(words.Findings))),
            3 => ("places and wards that bear a name", "Info", Cells(() => at.PickRandom(words.Places))),
            4 => ("roles", at.PickRandom("Consultant", "Arzt", "Médecin", "Role"), Cells(() => at.PickRandom(words.Roles))),
            5 => ("days of devices", "Device serviced", Cells(() => Day(10, 900))),
            6 => ("days of devices, expiry", "Kit expires", Cells(() => Day(-1200, -30))),
            7 => ("prose", "Text 2", Cells(() => at.Lorem.Sentence(4))),
            8 => ("colours", "Tray",
                List(at.Random.Int(3, 12), at.Commerce.Color) is var colours ? Cells(() => at.PickRandom(colours)) : []),
            9 => ("products", "Kit", List(at.Random.Int(3, 12), at.Commerce.ProductName) is var kit ? Cells(() => at.PickRandom(kit)) : []),
            10 => ("codes of nine to thirteen digits", "Monitor code", at.PickRandom(9, 10, 11, 13) is var digits
                ? Cells(() => at.Random.Replace(new string('#', digits))) : []),
            11 => ("serial numbers of devices", "Serial", at.PickRandom("??######", "???-####", "##-???-####") is var form
                ? Cells(() => at.Random.Replace(form)) : []),
            12 => ("numbers", "Value", at.PickRandom(100, 1000, 10_000, 100_000) is var most
                ? Cells(() => at.Random.Int(1, most).ToString(CultureInfo.InvariantCulture)) : []),
            13 => ("running numbers", "Row", at.Random.Int(1, 40_000) is var first
                ? [.. Enumerable.Range(first, rows).Select(i => i.ToString(CultureInfo.InvariantCulture))] : []),
            14 => ("clock times without a colon", "At", Cells(() => new TimeOnly(at.Random.Int(0, 23), at.Random.Int(0, 59))
                .ToString("HHmm", CultureInfo.InvariantCulture))),
            _ => ("towns", "From", Cells(() => at.Address.City())),
        };
    }
}
