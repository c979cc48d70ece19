"""The zero of a ruler, and what the samples of an unmixed lot share."""

from django.db import migrations, models

import nearmark.site.common.fields


class Migration(migrations.Migration):
    dependencies = [
        ("site", "0010_jars_in_drills_and_coaches"),
    ]

    operations = [
        migrations.AddField(
            model_name="instrumentrecord",
            name="zero_u",
            field=models.FloatField(default=0.0),
        ),
        migrations.AddField(
            model_name="itemrecord",
            name="mixing_u",
            field=nearmark.site.common.fields.WrittenDecimal(max_length=40, null=True),
        ),
    ]
